package retrofit

import "math"

// Rule is one line of the table of feasibility rules: a criterion of the building, or of its
// design, compared with limits for a note, a doubt and a bar, or some of them.
//
// The limits are Note, Doubt and Bar themselves or, if Against names a criterion, multiples of its
// value: clearance is a gap below 1 times the displacement.
type Rule struct {
	Name      string    // slug, unique in the table
	When      Criterion // a yes-or-no criterion that must hold; 0 for always
	Criterion Criterion
	Compare   Comparison
	Against   Criterion // criterion the limits multiply; 0 for none
	Note      float64   // NaN where the rule has no note
	Doubt     float64   // NaN where the rule never doubts
	Bar       float64   // NaN where the rule never bars
	Source    string    // document, edition and clause, or "judgement"
	Sentence  string    // for a manager, with at most two %v: the value, the limit
}

// Comparison is the side of the limit on which a rule applies.
type Comparison uint8

// The comparisons. Below and Above are clear at the limit itself.
const (
	Below Comparison = iota // less than the limit
	Above                   // more than the limit
	Is                      // equal to the limit, for yes (1) and no (0)
)

var comparisonWords = [...]string{"below", "above", "is"}

// String returns the comparison's word in the table.
func (c Comparison) String() string { return comparisonWords[c] }

// hits reports whether value is beyond a limit. A NaN limit is never hit.
func (c Comparison) hits(value, limit float64) bool {
	switch c {
	case Below:
		return value < limit
	case Above:
		return value > limit
	}
	return value == limit
}

// after reports whether limit a lies beyond limit b; false if one of them is NaN.
func (c Comparison) after(a, b float64) bool { return c == Below && a < b || c == Above && a > b }

// Apply applies the rule to the values of one building. An unknown value or reference gives
// Missing; a condition known to fail gives Clear.
func (r *Rule) Apply(v *Values) Finding {
	f := Finding{Rule: r, Value: v[r.Criterion], Limit: math.NaN()}
	scale := 1.0
	if r.Against != 0 {
		scale = v[r.Against]
	}
	note, doubt, bar := r.Note*scale, r.Doubt*scale, r.Bar*scale
	for _, limit := range [...]float64{bar, doubt, note} { // the first that there is
		if !math.IsNaN(limit) {
			f.Limit = limit
		}
	}
	switch {
	case r.When != 0 && v[r.When] == 0:
		f.Verdict = Clear
	case math.IsNaN(f.Value), math.IsNaN(scale), r.When != 0 && math.IsNaN(v[r.When]):
		f.Verdict = Missing
	case r.Compare.hits(f.Value, bar):
		f.Verdict, f.Limit = Bar, bar
	case r.Compare.hits(f.Value, doubt):
		f.Verdict, f.Limit = Doubt, doubt
	case r.Compare.hits(f.Value, note):
		f.Verdict = Note
	}
	return f
}

// sized reports whether the rule needs the measure to be sized first.
func (r *Rule) sized() bool {
	return r.Criterion.sized() || r.Against.sized() || r.When.sized()
}
