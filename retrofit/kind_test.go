package retrofit

import (
	"maps"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every measure on the list has every facet: texts for pages, rules, a row of dispersions, a
// mark of its own, and options that make a measure with its name.
func TestEveryMeasureHasEveryFacet(t *testing.T) {
	seen := make(map[string]bool)
	once := func(k *Kind, facet string) {
		assert.False(t, seen[facet], "%s: %s is another's", k.Slug, facet)
		seen[facet] = true
	}
	for _, k := range Kinds() {
		once(k, "slug "+k.Slug)
		once(k, "name "+k.Name)
		assert.Regexp(t, `^[A-Z].*\.$`, k.Does, k.Slug)
		assert.Regexp(t, `^[A-Z].*\.$`, k.Cannot, k.Slug)
		once(k, "mark "+string(k.Mark.Shape)+map[bool]string{true: " hollow"}[k.Mark.Hollow])
		assert.NotZero(t, k.Mark.Colour.A, k.Slug)
		assert.Equal(t, k.Mark.Hollow, len(k.Parts) > 0, "%s: a hollow mark is that of a combination", k.Slug)
		for _, part := range k.Parts {
			p, ok := KindOf(part)
			require.True(t, ok, part)
			assert.Empty(t, p.Parts, "%s: a part is no combination", k.Slug)
			assert.NotNil(t, p.Options, "%s: a part has options", k.Slug)
		}
		for storeys := range 20 {
			assert.Contains(t, k.AllBands(), k.BandOf(Defaults(), storeys+1), k.Slug)
		}
		if k.Options == nil {
			assert.Equal(t, "none", k.Slug)
			continue
		}
		assert.NotEmpty(t, k.Rules, k.Slug)
		require.NoError(t, Defaults()[k.Slug].Validate(), "%s: its defaults are possible", k.Slug)
		assert.Equal(t, k.Slug, byDefault(k.Slug).Slug())
	}
	_, ok := KindOf("jacks")
	assert.False(t, ok)
}

// Every rule of the table applies to some measure.
func TestEveryRuleIsSomeMeasures(t *testing.T) {
	used := make(map[string]bool)
	for _, k := range Kinds() {
		for _, name := range k.Rules {
			used[name] = true
		}
	}
	for _, r := range DefaultRules() {
		assert.True(t, used[r.Name], "%s: no measure is held against it", r.Name)
	}
	assert.Len(t, used, len(DefaultRules()))
	assert.Panics(t, func() { DefaultRules().Named([]string{"no-such-rule"}) })
}

// A building of more than eight storeys, and dampers that are not linear, have rows of
// their own.
func TestBands(t *testing.T) {
	s := Defaults()
	assert.Equal(t, "slider", sliderKind.BandOf(s, 8))
	assert.Equal(t, "slider-tall", sliderKind.BandOf(s, 9))
	assert.Equal(t, "viscous-linear", viscousKind.BandOf(s, 3))
	s["viscous"].(*ViscousOptions).Alpha = 0.5
	assert.Equal(t, "viscous", viscousKind.BandOf(s, 3))
}

// The price of a combination follows each price of its parts, by its stated sharing, until it
// has a price of its own.
func TestCombinationsFollowTheirParts(t *testing.T) {
	c := concreteFrame.build(t)
	cost := func(s Set, slug string) float64 {
		m, err := s.Measure(slug)
		require.NoError(t, err)
		return run(m, c).Cost.Likely
	}
	for slug, share := range map[string]sharing{
		"strengthen-viscous": strengthenViscousSharing, "lead-rubber-strengthen": leadRubberStrengthenSharing,
	} {
		s := Defaults()
		before := cost(s, slug)
		s["strengthen"].(*StrengthenOptions).Price.PerArea += 10
		assert.InEpsilon(t, before+share.area*10*c.Facts.FloorArea, cost(s, slug), 1e-12, slug)
		s["strengthen"].(*StrengthenOptions).Price.Fixed += 1000
		assert.InEpsilon(t, before+share.area*10*c.Facts.FloorArea+share.fixed*1000, cost(s, slug), 1e-12,
			slug)
		weeks := run(byDefault(slug), c).Weeks
		s["strengthen"].(*StrengthenOptions).Disruption.Fixed += 5
		m, err := s.Measure(slug)
		require.NoError(t, err)
		assert.InEpsilon(t, weeks+5*share.weeks, run(m, c).Weeks, 1e-12, slug)
	}
	s := Defaults()
	own := s["strengthen-viscous"].(*StrengthenViscousOptions)
	own.Price.PerArea = 200
	before := cost(s, "strengthen-viscous")
	s["strengthen"].(*StrengthenOptions).Price.PerArea = 500
	assert.Equal(t, before, cost(s, "strengthen-viscous"), "a price of its own stays")
	own.Price.LowRatio = 2
	_, err := s.Measure("strengthen-viscous")
	assert.ErrorContains(t, err, "strengthen-viscous: low ratio")
}

// Works done together never cost more than works one after the other, nor take longer, and no
// limit of one part means no limit of both.
func TestSharing(t *testing.T) {
	for _, s := range []sharing{strengthenViscousSharing, leadRubberStrengthenSharing} {
		for _, x := range []float64{s.fixed, s.area, s.weeks} {
			assert.True(t, x > 0.5 && x <= 1, x)
		}
	}
	s := sharing{1, 1, 1}
	assert.Equal(t, Disruption{3, 5, 9}, s.disruption(Disruption{1, 2, 7}, Disruption{2, 3, 9}))
	assert.Zero(t, s.disruption(Disruption{1, 2, 0}, Disruption{2, 3, 9}).LongestWeeks)
	assert.Equal(t, Price{1, 2, math.Inf(1), 4, 5, 6, 7},
		Price{1, 2, math.Inf(1), ofParts, 5, 6, ofParts}.or(Price{9, 9, 9, 4, 9, 9, 7}))
}

// A measure in one file needs only its line on the list: the plan, the rules and the marks read
// the list.
func TestAddingAMeasureIsOneLine(t *testing.T) {
	before := slices.Clone(kinds)
	defer func() { kinds = before }()
	kinds = append(kinds, &propsKind)
	s := Defaults()
	require.Contains(t, slices.Collect(maps.Keys(s)), "props")
	m, err := s.Measure("props")
	require.NoError(t, err)
	o := run(m, concreteFrame.build(t))
	assert.Len(t, o.Findings, 1)
	assert.Equal(t, "heritage", o.Findings[0].Rule.Name)
	assert.Equal(t, 1000.0, o.Cost.Likely)
	assert.Contains(t, o.Reason(), "props")
}

// propsKind is a minimal measure: temporary props that change nothing.
var propsKind = Kind{
	Slug: "props", Name: "props", Does: "Holds the floors up.", Cannot: "It takes no drift away.",
	Rules: []string{"heritage"}, Mark: Mark{Shape: Diamond, Hollow: true, Colour: black},
	Options: func() Options { return &propsOptions{Price{Fixed: 1000, LowRatio: 1, HighRatio: 1}} },
}

type propsOptions struct {
	// cost of props
	Price Price `toml:"price"`
}

func (o *propsOptions) Validate() error { return check("props", o.Price.faults()...) }
func (o *propsOptions) measure(Set) Measure {
	return &props{newScreening(&propsKind, o.Price, Disruption{})}
}

type props struct{ screening }

func (m *props) Evaluate(w *Work, c *Case, out *Outcome) {
	if m.begin(m, w, c, out) {
		w.Built = Built{Stick: c.Stick}
		levels := out.levels(len(c.AsIs))
		for i := range levels {
			levels[i].CopyFrom(&c.AsIs[i])
		}
		m.finish(w, c, out, Amounts{})
	}
}
