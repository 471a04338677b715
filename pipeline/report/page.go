package report

import (
	_ "embed" // the page
	"fmt"
	"html/template"
	"io"
	"math"
	"slices"
	"strings"

	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
)

// Name is the name of the page in the folder of a run.
const Name = "report.html"

// An Input holds everything that the page of a run says.
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
	//go:embed theme.js
	themeScript string
	//go:embed page.js
	pageScript string
	//go:embed map.js
	mapScript string
	//go:embed building.js
	buildingScript string

	// measured holds the comparison with measured buildings, which make measured writes.
	//go:embed measured.txt
	measured string

	wholePage = newFrame(pageText, "", themeScript+pageScript+mapScript+buildingScript)
)

// A view holds what the template of the page sees in addition to the Input.
type view struct {
	*Input
	Answer   answer
	Rows     int // buildings on the page
	Money    money
	Charts   []chart
	Rejects  []output.Reject
	Cautions []string
	Measured string // what the program was held against

	Rate            float64 // percent a year
	Cut, CutRejects bool    // the page does not hold all rows
}

// A chart is one picture with the words that can replace it.
type chart struct {
	Title, Alt, Caption string
	SVG                 template.HTML
	Wide                bool // it is as wide as the page and has links
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
	v := view{Input: &in, Rows: len(in.Stock.buildings), Rejects: in.Stock.rejects, Cautions: output.Cautions,
		Measured: strings.TrimSpace(measured)}
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
	title := in.Title
	if title == "" {
		title = "Which buildings first"
	}
	return wholePage.write(w, title, data, v)
}

// charts draws the pictures of the page.
func charts(s *Stock, m money) ([]chart, error) {
	sure, err := intervals(s.buildings)
	if err != nil {
		return nil, err
	}
	bs := treatedOf(s)
	first, err := costBenefit(bs, m)
	if err != nil {
		return nil, err
	}
	second, err := running(bs, m)
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc([]chart{sure, first, second}, func(c chart) bool { return c.SVG == "" }), nil
}

// percent returns n of total in percent, rounded to a whole number.
func percent(n, total int) float64 {
	if total <= 0 {
		return 0
	}
	return math.Round(1000*float64(n)/float64(total)) / 10
}

// short returns the first characters of a hash, enough to compare by eye.
func short(hash string) string { return hash[:min(len(hash), 12)] }
