package report

import (
	"bytes"
	"crypto/sha256"
	_ "embed" // the page
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"math"

	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
)

// Name is the name of the page in the folder of a run.
const Name = "report.html"

// An Input is everything a page says.
type Input struct {
	Title        string // of the plan
	Objective    *ranking.Objective
	About        output.About
	Counts       output.Counts
	Design       float64 // yr, return period of the demand shown
	LifeYears    float64
	DiscountRate float64
	PlanSHA256   string
	Quality      Quality
	Hazard       []string // as from Coverage
	Notes        []string // how the numbers came about, as in the manifest
	Stock        *Stock
}

var (
	//go:embed page.html
	pageText string
	//go:embed page.css
	pageStyle string
	//go:embed page.js
	pageScript string
	//go:embed map.js
	mapScript string
	//go:embed building.js
	buildingScript string

	wholePage = template.Must(template.New("page").Funcs(template.FuncMap{
		"shown": shown, "upper": upper, "measure": measureName, "percent": percent,
		"short": short, "grade": func(i int) string { return "ABCD"[i : i+1] },
	}).Parse(pageText))
)

// A view is what the template of the page sees beside the Input.
type view struct {
	*Input
	Policy   string
	Style    template.CSS
	Script   template.JS
	Data     template.JS
	Answer   answer
	Rows     int // buildings on the page
	Money    money
	Charts   []chart
	Rejects  []output.Reject
	Cautions []string

	Rate            float64 // percent a year
	Cut, CutRejects bool    // the page has not all rows
}

// A chart is one picture with the words that stand in for it.
type chart struct {
	Title, Alt, Caption string
	SVG                 template.HTML
}

// Write writes the page.
func Write(w io.Writer, in Input) error {
	if in.Stock == nil {
		in.Stock = &Stock{}
	}
	if in.Objective == nil {
		in.Objective = ranking.NetBenefit
	}
	in.About.Currency = shown(in.About.Currency)
	largest := 0.0
	for i := range in.Stock.buildings {
		largest = max(largest, known(in.Stock.buildings[i].BestCostLikely), known(in.Stock.buildings[i].AnnualLoss))
	}
	v := view{Input: &in, Rows: len(in.Stock.buildings), Rejects: in.Stock.rejects, Cautions: output.Cautions}
	v.Rate = output.Round(100*in.DiscountRate, 3)
	v.Cut, v.CutRejects = in.Stock.n > int64(v.Rows), in.Counts.Rejected > int64(len(v.Rejects))
	v.Money = newMoney(largest, in.About.Currency)
	v.Answer = newAnswer(&in, v.Money)
	var err error
	if v.Charts, err = charts(in.Stock, v.Money); err != nil {
		return fmt.Errorf("report: %w", err)
	}
	data, err := encode(in.Stock, v.Money, in.Objective)
	if err != nil {
		return fmt.Errorf("report: %w", err)
	}
	script := pageScript + mapScript + buildingScript
	sum := sha256.Sum256([]byte(script))
	v.Policy = "default-src 'none'; style-src 'unsafe-inline'; script-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
	v.Style, v.Script, v.Data = template.CSS(pageStyle), template.JS(script), template.JS(data)
	var b bytes.Buffer
	if err := wholePage.Execute(&b, v); err != nil {
		return fmt.Errorf("report: %w", err)
	}
	_, err = w.Write(b.Bytes())
	return err
}

// charts draws what the page shows in pictures; none without measures.
func charts(s *Stock, m money) ([]chart, error) {
	bs := treatedOf(s)
	if len(bs) == 0 {
		return nil, nil
	}
	first, err := costBenefit(bs, m)
	if err != nil {
		return nil, err
	}
	second, err := running(bs, m)
	if err != nil {
		return nil, err
	}
	var cost, benefit float64
	for i := range bs {
		cost += bs[i].BestCostLikely
		benefit += bs[i].BestNetBenefit
	}
	all := []chart{
		{"What each measure costs and what it saves",
			fmt.Sprintf("Scatter chart of %d buildings with a measure: likely cost across, present value of the loss avoided up, both on logarithmic scales, with a dashed line where they are equal.", min(len(bs), maxMarks)),
			"One mark is one building with its first choice; the loss avoided is its present value. Above the dashed line the loss avoided is worth more than the likely cost; twice as far up is worth twice as much.", first},
		{"How far down the list the money goes",
			fmt.Sprintf("Line chart: going down the ranking, the summed net benefit against the summed likely cost, ending at %s and %s %s.", m.in(benefit), m.in(cost), m.name),
			"Measures are taken in order of rank, one building after the other. Where the line runs flat, more money buys little; where it falls, it buys less than it costs.", second},
	}
	var drawn []chart
	for _, c := range all {
		if c.SVG != "" {
			drawn = append(drawn, c)
		}
	}
	return drawn, nil
}

// percent returns n of total as whole percent.
func percent(n, total int) float64 {
	if total <= 0 {
		return 0
	}
	return math.Round(1000*float64(n)/float64(total)) / 10
}

// short returns the front of a hash, enough to compare by eye.
func short(hash string) string { return hash[:min(len(hash), 12)] }
