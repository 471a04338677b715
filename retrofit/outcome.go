package retrofit

import "plinth/retrofit/demand"

// Verdict is the result of a feasibility rule, or of all rules of a measure together. The
// larger value is the graver.
type Verdict uint8

// The verdicts.
const (
	Clear   Verdict = iota // nothing against it at this level of study
	Note                   // to be settled in the design, as a matter of course
	Missing                // undecided: a fact is not known
	Doubt                  // possible, but needs study first
	Bar                    // does not fit
)

var verdictWords = [...]string{"clear", "note", "missing", "doubt", "bar"}

// String returns the verdict's word.
func (v Verdict) String() string { return verdictWords[v] }

// Finding is one rule applied to one building.
type Finding struct {
	Rule    *Rule
	Verdict Verdict
	Value   float64 // value tested; NaN if the rule has no number
	Limit   float64 // limit it was compared with; NaN if the rule has no number
}

// Cost is a range in the plan's currency at its price date.
type Cost struct{ Low, Likely, High float64 }

// Quantity is one number of a sized measure, as in an order.
type Quantity struct {
	Name  string // such as "bearing diameter"
	Value float64
	Unit  string
}

// Outcome is one measure applied to one Case. It is filled in place and keeps its storage.
type Outcome struct {
	Measure  Measure
	Verdict  Verdict    // the gravest of Findings
	Findings []Finding  // every rule of the measure
	Sized    []Quantity // the design
	// demand with the measure, one for each return period; empty if barred before sizing
	Levels  []demand.Response
	Cost    Cost
	Price   Price   // unit prices of Cost
	Amounts Amounts // quantities of Cost

	// strength of the frame over that as it stands, for strengthening alone; otherwise 0
	StrengthFactor float64

	Travel Travel  // of isolators; zero without
	Weeks  float64 // of disruption
}

// Measure is one way of protecting a building. Evaluate fills out for c and sets w.Built to the
// resulting structure, unless a rule bars the measure first. It uses w for scratch space and
// keeps no state, so one Measure serves all goroutines.
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

// levels makes room for n levels and reuses the storage of their slices.
func (o *Outcome) levels(n int) []demand.Response {
	for cap(o.Levels) < n {
		o.Levels = append(o.Levels[:cap(o.Levels)], demand.Response{})
	}
	o.Levels = o.Levels[:n]
	return o.Levels
}
