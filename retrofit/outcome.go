package retrofit

import "plinth/retrofit/demand"

// A Verdict is what a feasibility rule, or all rules of a measure together, say.
// The larger value is the graver.
type Verdict uint8

// The verdicts.
const (
	Clear   Verdict = iota // nothing against it at this level of study
	Missing                // cannot be told: a fact is not known
	Doubt                  // possible, but needs study first
	Bar                    // does not fit
)

var verdictWords = [...]string{"clear", "missing", "doubt", "bar"}

// String returns the verdict's word.
func (v Verdict) String() string { return verdictWords[v] }

// A Finding is one rule applied to one building.
type Finding struct {
	Rule    *Rule
	Verdict Verdict
	Value   float64 // what was compared; NaN where the rule has no number
	Limit   float64 // what it was compared with; NaN where the rule has no number
}

// A Cost is a range in the plan's currency at its price date.
type Cost struct{ Low, Likely, High float64 }

// A Quantity is one number of a sized measure, as a person would order it.
type Quantity struct {
	Name  string // such as "bearing diameter"
	Value float64
	Unit  string
}

// An Outcome is one measure applied to one Case. It is filled in place and keeps
// its storage.
type Outcome struct {
	Measure  Measure
	Verdict  Verdict           // the gravest of Findings
	Findings []Finding         // every rule of the measure
	Sized    []Quantity        // the design
	Levels   []demand.Response // demand with the measure, one a return period; empty if barred before sizing
	Cost     Cost
	Price    Price   // what Cost was computed from
	Amounts  Amounts // and what it was multiplied by

	StrengthFactor float64 // strength of the frame over that as it stands, of a measure that is strengthening alone; else 0

	Weeks float64 // of disruption
}

// A Measure is one way of protecting a building. Evaluate fills out for c and, unless a rule
// bars it before, sets w.Built to what it arrived at. It uses w for scratch space and keeps
// no state, so one Measure serves all goroutines.
type Measure interface {
	Slug() string
	Evaluate(w *Work, c *Case, out *Outcome)
}

// reset empties o for a new building and keeps its storage.
func (o *Outcome) reset(m Measure) {
	*o = Outcome{Measure: m, Findings: o.Findings[:0], Sized: o.Sized[:0], Levels: o.Levels[:0]}
}

// add records a finding.
func (o *Outcome) add(f Finding) {
	o.Findings = append(o.Findings, f)
	o.Verdict = max(o.Verdict, f.Verdict)
}

// size records one number of the design.
func (o *Outcome) size(name string, value float64, unit string) {
	o.Sized = append(o.Sized, Quantity{name, value, unit})
}

// levels makes room for n levels, reusing the storage of their slices.
func (o *Outcome) levels(n int) []demand.Response {
	for cap(o.Levels) < n {
		o.Levels = append(o.Levels[:cap(o.Levels)], demand.Response{})
	}
	o.Levels = o.Levels[:n]
	return o.Levels
}
