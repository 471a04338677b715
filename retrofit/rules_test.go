package retrofit

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// rulesOf returns the rules of a measure.
func rulesOf(slug string) []*Rule {
	k, _ := KindOf(slug)
	return DefaultRules().Named(k.Rules)
}

// rule returns a rule of the embedded table.
func rule(t *testing.T, name string) *Rule {
	t.Helper()
	r := DefaultRules()
	i := slices.IndexFunc(r, func(r Rule) bool { return r.Name == name })
	require.GreaterOrEqual(t, i, 0, name)
	return &r[i]
}

// Each limit of the table, just inside, at and just outside. Sources of the
// limits stand in rules.csv; those with a standard are named again here.
func TestRuleLimits(t *testing.T) {
	nan := math.NaN()
	for _, test := range []struct {
		rule    string
		value   float64
		against float64
		want    Verdict
	}{
		{"party-wall", 1, 0, Bar}, {"party-wall", 0, 0, Clear}, {"party-wall", nan, 0, Missing},
		{"light-building", 1, 0, Bar}, {"light-building", 0, 0, Clear},
		{"isolation-plane", 1, 0, Clear}, {"isolation-plane", 0, 0, Doubt},
		{"isolation-plane", nan, 0, Missing},
		{"height", 8, 0, Clear}, {"height", 9, 0, Doubt},
		{"slenderness", 2.5, 0, Clear}, {"slenderness", 2.51, 0, Doubt},
		{"irregular-plan", 1, 0, Doubt}, {"irregular-plan", 0, 0, Clear},
		{"soft-site", 1, 0, Note},                                    // ASCE 7-16 17.4.1
		{"near-fault", 15, 0, Clear}, {"near-fault", 14.9, 0, Doubt}, // EN 1998-1 10.9.3
		{"period-separation", 3, 0, Clear}, {"period-separation", 2.99, 0, Doubt}, // EN 1998-1 10.9.3
		{"period-separation", 2, 0, Doubt}, {"period-separation", 1.99, 0, Bar},
		{"frame-use", 0.70, 0, Clear}, {"frame-use", 0.71, 0, Doubt}, {"frame-use", 1, 0, Doubt},
		{"frame-use", 1.01, 0, Bar},
		{"uplift", 0.8, 0, Clear}, {"uplift", 1, 0, Doubt}, {"uplift", 1.5, 0, Doubt}, {"uplift", 1.51, 0, Bar},
		{"wind", 1, 0, Clear}, {"wind", 1.01, 0, Note}, // ASCE 7-16 17.2.4.2
		{"plane-dampers", 0, 0, Clear}, {"plane-dampers", 0.01, 0, Doubt},
		{"mistuned", 0.5, 0, Clear}, {"mistuned", 0.49, 0, Doubt},
		{"clearance", 0.35, 0.35, Clear}, {"clearance", 0.34, 0.35, Bar}, // ASCE 7-16 17.2.4.5
		{"clearance", nan, 0.35, Missing}, {"clearance", 0.34, nan, Missing},
		{"clearance-rarest", 0.34, 0.35, Doubt},
		{"restoring-force", 0.025, 0, Clear}, {"restoring-force", 0.0249, 0, Bar}, // ASCE 7-16 17.2.4.4
		{"isolated-period", 5, 0, Clear}, {"isolated-period", 5.1, 0, Doubt}, // ASCE 7-16 17.4.1
		{"stiff-already", 0.005, 0, Clear}, {"stiff-already", 0.0049, 0, Doubt},
		{"short-period", 0.5, 0, Clear}, {"short-period", 0.49, 0, Doubt},
		{"yields", 1, 0, Clear}, {"yields", 2, 0, Doubt}, {"yields", 2.01, 0, Bar},
		{"small-mass", 0.01, 0, Clear}, {"small-mass", 0.009, 0, Doubt},
		{"roof-load", 0.96, 0, Clear}, {"roof-load", 0.97, 0, Note}, {"roof-load", 2.41, 0, Doubt}, // ASCE 7-16 Table 4.3-1
		{"little-gain", 0.95, 0, Clear}, {"little-gain", 0.96, 0, Doubt},
	} {
		r := rule(t, test.rule)
		var v Values
		v[r.Criterion] = test.value
		if r.Against != 0 {
			v[r.Against] = test.against
		}
		f := r.Apply(&v)
		assert.Equal(t, test.want, f.Verdict, "%s at %g", test.rule, test.value)
	}
}

// A rule with a condition is clear where the condition does not hold, whatever
// its value, and missing where the condition is not known.
func TestRuleCondition(t *testing.T) {
	r := rule(t, "acceleration-fragile")
	var v Values
	v[accelerationRatio] = 1.4
	assert.Equal(t, Clear, r.Apply(&v).Verdict)
	v[fragileContents] = 1
	assert.Equal(t, Doubt, r.Apply(&v).Verdict)
	v[fragileContents] = math.NaN()
	f := r.Apply(&v)
	assert.Equal(t, Missing, f.Verdict)
	assert.Equal(t, "the kind of contents is not known", string(f.AppendText(nil)))
}

// Moving a value to the wrong side never makes a verdict milder.
func TestRulesAreMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := &DefaultRules()[rapid.IntRange(0, len(DefaultRules())-1).Draw(t, "rule")]
		if r.Compare == Is {
			t.Skip("a yes or no has no order")
		}
		var v Values
		for i := range v {
			v[i] = 1
		}
		a, b := rapid.Float64Range(-10, 30).Draw(t, "a"), rapid.Float64Range(-10, 30).Draw(t, "b")
		low, high := min(a, b), max(a, b)
		v[r.Criterion] = low
		atLow := r.Apply(&v).Verdict
		v[r.Criterion] = high
		atHigh := r.Apply(&v).Verdict
		if r.Compare == Below {
			atLow, atHigh = atHigh, atLow
		}
		if atLow > atHigh {
			t.Fatalf("%s: %v at the better, %v at the worse value", r.Name, atLow, atHigh)
		}
	})
}

func TestEveryMeasureHasRules(t *testing.T) {
	for _, k := range Kinds() {
		rules := DefaultRules().Named(k.Rules)
		if k == &noneKind {
			assert.Empty(t, rules)
			continue
		}
		assert.NotEmpty(t, rules, k.Slug)
		sized := false // those that need a design come last
		for _, r := range rules {
			assert.False(t, sized && !r.sized(), r.Name)
			sized = r.sized()
		}
	}
}

func TestReadRulesReportsEveryFault(t *testing.T) {
	head := strings.Join(ruleColumns, ",") + "\n"
	for _, test := range []struct {
		line    string
		col     int
		name    string
		problem string
	}{
		{"a,,gop,m,below,,,1,,s,x", 4, "criterion", "no criterion"},
		{"a,,gap,ft,below,,,1,,s,x", 8, "unit", `given in "m"`},
		{"a,,gap,m,under,,,1,,s,x", 10, "comparison", "write below"},
		{"a,,gap,m,is,,,1,,s,x", 10, "comparison", "use is"},
		{"a,gap,gap,m,below,,,1,,s,x", 3, "when", "yes-or-no"},
		{"a,,gap,m,below,storeys,,1,,s,x", 16, "against", "unit of the criterion"},
		{"a,,gap,m,below,,one,1,,s,x", 17, "note", "write a number"},
		{"a,,gap,m,below,,1,2,,s,x", 17, "note", "come before the doubt"},
		{"a,,gap,m,below,,1,,2,s,x", 17, "note", "come before the doubt and the bar"},
		{"a,,gap,m,below,,,one,,s,x", 18, "doubt", "write a number"},
		{"a,,gap,m,below,,,NaN,,s,x", 18, "doubt", "write a number"},
		{"a,,gap,m,below,,,,,s,x", 18, "doubt", "give a limit"},
		{"a,,gap,m,below,,,1,2,s,x", 18, "doubt", "come before the bar"},
		{"a,,gap,m,below,,,1,, ,x", 21, "source", "must not be empty"},
		{"a,,gap,m,below,,,1,,s,%v %v %v", 23, "sentence", "two slots"},
		{"a,,gap,m,below,,,1,,s,%d", 23, "sentence", "two slots"},
		{"a,", 1, "name", "2 cells"},
	} {
		_, err := ReadRules(strings.NewReader(head + test.line + "\n"))
		var e *RuleError
		require.ErrorAs(t, err, &e, test.line)
		assert.Equal(t, 2, e.Line, test.line)
		assert.Equal(t, test.col, e.Column, test.line)
		assert.Equal(t, test.name, e.Name, test.line)
		assert.Contains(t, e.Problem, test.problem, test.line)
	}
	good := "a,,gap,m,below,,,1,,s,x\n"
	_, err := ReadRules(strings.NewReader(head + good + good))
	require.ErrorContains(t, err, `name "a": occurs twice`)
	_, err = ReadRules(strings.NewReader(head + "a,,gop,ft,under,,,one,,s,x\n"))
	joined := errors.Unwrap(err)
	assert.Nil(t, joined, "joined errors unwrap to a list")
	assert.Len(t, err.(interface{ Unwrap() []error }).Unwrap(), 3)
	_, err = ReadRules(strings.NewReader("name\n"))
	require.ErrorContains(t, err, "header")
}

func FuzzReadRules(f *testing.F) {
	f.Add(rulesCSV)
	f.Add(strings.Join(ruleColumns, ",") + "\na,,gap,m,below,,,1,,s,%v x %v\n")
	f.Add("name\n\"")
	f.Fuzz(func(t *testing.T, text string) {
		rules, err := ReadRules(strings.NewReader(text))
		if err != nil {
			return
		}
		var v Values
		for i := range rules { // an accepted table can be applied and put into words
			for _, x := range []float64{math.NaN(), -1, 0, 1, 1e300} {
				v[rules[i].Criterion] = x
				f := rules[i].Apply(&v)
				f.AppendText(nil)
			}
		}
	})
}
