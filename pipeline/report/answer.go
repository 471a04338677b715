package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
)

// firstBuildings is the number of buildings on the first screen.
const firstBuildings = 10

// An answer is the first screen. It answers the question that the run was asked.
type answer struct {
	First     []firstRow
	Treated   int64 // buildings for which a measure comes before doing nothing
	Unjudged  int64
	Untreated int64
	Cost      string // likely cost of the first buildings, in words
	CostRange string
	Benefit   string
	Grades    [4]int64 // buildings of grade A to D
	Sure      []string // what is not sure, in sentences
	Worst     []worstRow
	Now       int64 // buildings an engineer should look at now, whatever their rank
	NowShare  int   // percent of all
	Urgent    []urgentRow
	Measures  []measureRow
}

// A firstRow is one building of the first screen.
type firstRow struct {
	Place         int // index among the rows of the page
	Rank          int64
	ID, Name      string
	Measure, Cost string
	Range         string
	Benefit       string
	Drift, After  string
	Doubts        []string
}

// A worstRow is one of the buildings that are worst off as they stand.
type worstRow struct {
	ID, Name, Loss, Best string
	Rank                 int64
}

// An urgentRow is one of the buildings that an engineer should look at now.
type urgentRow struct {
	ID, Name, Often, Best string
	Rank                  int64
}

// newUrgent returns the row of a building: how often it kills, and what can be done for it.
func newUrgent(b *output.Building, currency string) urgentRow {
	row := urgentRow{shown(b.ID), shown(b.Name), often(b.IndividualRisk), measureName(b.Best), b.Rank}
	if b.Best == ranking.NoMeasure {
		row.Best = "nothing pays"
		if b.PaysMeasure != "" {
			row.Best += "; " + measureName(b.PaysMeasure) + " would below " + words(b.PaysBelow, currency)
		}
	}
	return row
}

// often returns an annual frequency as years, such as "once in 950 years".
func often(frequency float64) string {
	if !(frequency > 0) {
		return "not known how often"
	}
	return "once in " + twoDigits(1/frequency) + " years"
}

// A measureRow sums the buildings of one best measure.
type measureRow struct {
	Name, Cost, Benefit string
	N                   int64
	Share               float64 // percent
}

func newAnswer(in *Input, m money) answer {
	s := in.Stock
	a := answer{}
	a.Treated, a.Unjudged = s.treated()
	a.Untreated = s.n - a.Treated - a.Unjudged
	var low, likely, high, benefit float64
	for i := range s.buildings {
		b := &s.buildings[i]
		if len(a.First) == firstBuildings {
			break
		}
		if !hasMeasure(b) {
			continue
		}
		a.First = append(a.First, newFirst(s, i, m))
		low, likely, high = low+known(b.BestCostLow), likely+known(b.BestCostLikely), high+known(b.BestCostHigh)
		benefit += known(b.BestNetBenefit)
	}
	a.Cost, a.Benefit = words(likely, in.About.Currency), words(benefit, in.About.Currency)
	a.CostRange = between(low, high, in.About.Currency)
	a.Grades = s.grades
	a.Sure = sure(s, len(a.First))
	if b := in.About.BuiltIn; b != "" {
		a.Sure = append(a.Sure, upper(b)+": built-in defaults of the program, not yours")
	}
	for i := range s.worst {
		b := &s.worst[i]
		a.Worst = append(a.Worst, worstRow{shown(b.ID), shown(b.Name), words(b.AnnualLoss, in.About.Currency),
			measureName(b.Best), b.Rank})
	}
	a.Now, a.NowShare = s.now, int(math.Round(percent(int(s.now), int(s.n))))
	for i := range s.urgent {
		a.Urgent = append(a.Urgent, newUrgent(&s.urgent[i], in.About.Currency))
	}
	for _, row := range s.measures {
		a.Measures = append(a.Measures, measureRow{measureName(row.measure), m.in(row.cost), m.in(row.benefit),
			row.n, percent(int(row.n), int(s.n))})
	}
	return a
}

func newFirst(s *Stock, place int, m money) firstRow {
	b := &s.buildings[place]
	return firstRow{
		Place: place, Rank: b.Rank, ID: shown(b.ID), Name: shown(b.Name),
		Measure: measureName(b.Best), Cost: m.in(b.BestCostLikely),
		Range:   m.in(b.BestCostLow) + " to " + m.in(b.BestCostHigh),
		Benefit: m.in(b.BestNetBenefit), Drift: b.DriftWords(b.Drift, tenth),
		After:  b.DriftWords(b.BestDrift, tenth),
		Doubts: doubts(b, s.deadlier[place]),
	}
}

// doubts lists in short words what a reader must know before trusting the row.
func doubts(b *output.Building, deadlier bool) []string {
	var out []string
	if deadlier {
		out = append(out, "deaths not reduced")
	}
	if b.DataGrade != "" {
		out = append(out, "grade "+b.DataGrade)
	}
	if b.Tied {
		out = append(out, "no clear winner")
	}
	switch b.BestVerdict {
	case "doubt":
		out = append(out, "study first")
	case "missing":
		out = append(out, "facts missing")
	}
	if b.SolverStatus != "" {
		out = append(out, "numbers less sure")
	}
	return out
}

// sure says in sentences how sure the first n rows are.
func sure(s *Stock, n int) []string {
	bs := s.buildings
	var deadlier, tied, study, missing, limited, hazard, poor int
	groups := []string{}
	start, seen := 0, 0
	for i := range bs {
		b := &bs[i]
		if seen == n {
			break
		}
		if !hasMeasure(b) {
			continue
		}
		seen++
		deadlier += count(s.deadlier[i])
		tied += count(b.Tied)
		study += count(b.BestVerdict == "doubt")
		missing += count(b.BestVerdict == "missing")
		limited += count(b.SolverStatus != "")
		hazard += count(b.HazardStatus != "")
		poor += count(b.DataGrade > "B")
		if i == len(bs)-1 || seen == n || bs[i+1].TieGroup != b.TieGroup {
			if i > start {
				groups = append(groups, fmt.Sprintf("%d to %d", bs[start].Rank, b.Rank))
			}
			start = i + 1
		}
	}
	var out []string
	say := func(k int, one, many string) {
		if k > 0 {
			text := many
			if k == 1 {
				text = one
			}
			who := number(k)
			if k == n && n > 1 {
				who = "All"
			}
			out = append(out, fmt.Sprintf("%s of these %d %s", who, n, text))
		}
	}
	if len(groups) > 0 {
		out = append(out, "Order is not certain within places "+strings.Join(groups,
			" and ")+": their scores are too close to tell apart.")
	}
	say(deadlier, "gets a measure that saves money and by these numbers no lives: look at it before anything "+
		"else.", "get a measure that saves money and by these numbers no lives: look at them before anything else.")
	say(tied, "has a second measure about as good as the first.",
		"have a second measure about as good as the first.")
	say(study, "needs a study before its measure can be chosen.",
		"need a study before their measure can be chosen.")
	say(missing, "has a measure whose fitness hangs on facts the register does not give.",
		"have a measure whose fitness hangs on facts the register does not give.")
	say(poor, "rests on data of grade C or D.", "rest on data of grade C or D.")
	say(limited, "has numbers beyond what the method was measured for, at some level of shaking.",
		"have numbers beyond what the method was measured for, at some level of shaking.")
	say(hazard, "stands where something must be said of the shaking: see the building.",
		"stand where something must be said of the shaking: see the building.")
	return out
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// number returns k in words up to ten, with a capital letter.
func number(k int) string {
	if k <= 10 {
		return [...]string{"None", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten"}[k]
	}
	return strconv.Itoa(k)
}

// tenth returns v to one decimal, a value below 0.1 to two, and a dash if it is not known.
func tenth(v float64) string {
	if math.IsNaN(v - v) {
		return "-"
	}
	if math.Abs(v) < 0.1 {
		return strconv.FormatFloat(v, 'f', 2, 64)
	}
	return strconv.FormatFloat(v, 'f', 1, 64)
}
