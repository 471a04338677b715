package retrofit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plinth/hazard"
	"plinth/retrofit/demand"
)

// atLevels gives c the spectrum of its design level times each factor, one for each level. A
// factor of 0 is no shaking at all. Equal factors occur in a run whose hazard holds the end
// value: the same spectrum, bit for bit.
func (c *Case) atLevels(design int, factors []float64) {
	var w Work
	site := &hazard.Site{Spectra: make([]hazard.Spectrum, len(factors)), Class: c.Site.Class}
	c.AsIs = make([]demand.Response, len(factors))
	for i, f := range factors {
		site.ReturnPeriod = append(site.ReturnPeriod, 25*math.Pow(2, float64(i)))
		if f > 0 {
			site.Spectra[i].CopyFrom(&c.Site.Spectra[c.Design])
			site.Spectra[i].Scale(f)
		}
		w.Demand.AsIs(c.Stick, &site.Spectra[i], &c.AsIs[i])
	}
	c.Site, c.Design = site, design
}

// Levels with one spectrum get one demand from every measure and from the building as it
// stands, whether they are all the levels, some of them, or the only one.
func TestHeldLevelsGetOneDemand(t *testing.T) {
	measures := every()
	patterns := [][]float64{
		{1}, {1, 1}, {1, 1, 1, 1, 1, 1, 1, 1}, {1, 1, 1, 1, 1, 2, 2, 2}, {0.05, 0.05, 1, 1, 3, 3},
		{0.3, 1, 1, 1, 1, 1},
		{0, 0, 1, 1}, {0, 0, 0},
	}
	var w Work
	var o Outcome
	rapid.Check(t, func(r *rapid.T) {
		c := drawSketch(r).build(t)
		factors := rapid.SampledFrom(patterns).Draw(r, "levels")
		c.atLevels(rapid.IntRange(0, len(factors)-1).Draw(r, "design"), factors)
		requireHeld(r, "as it stands", factors, c.AsIs)
		for _, m := range measures {
			m.Evaluate(&w, c, &o)
			sane(r, c, &o)
			if len(o.Levels) > 0 {
				requireHeld(r, m.Slug(), factors, o.Levels)
			}
		}
	})
}

// requireHeld checks that levels of one factor have one demand. A search for a balance
// ends within 1e-5 of it, wherever it began.
func requireHeld(t require.TestingT, slug string, factors []float64, levels []demand.Response) {
	for i := 1; i < len(levels); i++ {
		a, b := &levels[i-1], &levels[i]
		if factors[i] != factors[i-1] {
			continue
		}
		require.Equal(t, a.Status, b.Status, "%s, level %d", slug, i)
		for _, v := range [][2]float64{
			{a.Roof, b.Roof}, {a.DriftRatio, b.DriftRatio}, {a.PeakAccel, b.PeakAccel},
			{a.BaseShear, b.BaseShear}, {a.Displacement, b.Displacement}, {a.Period, b.Period},
		} {
			require.InDelta(t, v[0], v[1], 1e-4*v[0], "%s, level %d", slug, i)
		}
	}
}

// drawSketch draws a building made by hand.
func drawSketch(r *rapid.T) sketch {
	return sketch{
		storeys:  rapid.IntRange(1, 20).Draw(r, "storeys"),
		period:   rapid.Float64Range(0.05, 3).Draw(r, "period"),
		strength: rapid.Float64Range(0.03, 1.5).Draw(r, "strength"),
		ag:       rapid.Float64Range(0.02, 0.8).Draw(r, "ag"),
	}
}

// A range may be a single value: the least and the largest of every range of the options,
// bounds included, may be equal; only that value is then searched.
func TestRangesOfOneValue(t *testing.T) {
	var w Work
	rapid.Check(t, func(r *rapid.T) {
		c := drawSketch(r).build(t)
		one := func(name string, least, most float64) [2]float64 {
			v := rapid.OneOf(rapid.Just(least), rapid.Just(most), rapid.Float64Range(least, most)).Draw(r,
				name)
			return [2]float64{v, v}
		}
		isolation := func(o *IsolationOptions) {
			o.YieldRatio = one("yield_ratio", 0.005, 0.5)
			o.Period = one("period_s", 0.5, 10)
			o.Upper, o.Lower = one("upper_bound", 1, 5), one("lower_bound", 0.1, 1)
		}
		lead, slide, yield := DefaultLeadRubberOptions(), DefaultSliderOptions(), DefaultYieldingOptions()
		both := DefaultLeadRubberStrengthenOptions()
		isolation(&lead.IsolationOptions)
		isolation(&slide.IsolationOptions)
		yield.StiffnessRatio = one("stiffness_ratio", 0.01, 20)
		yield.ForceRatio = one("force_ratio", 0.01, 5)
		require.NoError(r, lead.Validate())
		require.NoError(r, slide.Validate())
		require.NoError(r, both.Validate())
		require.NoError(r, yield.Validate())
		measures := []Measure{NewLeadRubber(lead), NewSlider(slide), NewYielding(yield),
			NewLeadRubberStrengthen(both, lead, DefaultStrengthenOptions())}
		for _, m := range measures {
			var o Outcome
			m.Evaluate(&w, c, &o)
			sane(r, c, &o)
			if len(o.Levels) == 0 {
				continue
			}
			switch m.Slug() {
			case "yielding":
				require.Equal(r, min(yield.StiffnessRatio[0], yield.Bracing.ratio(&c.Facts, c.Stick)),
					o.sized(t, "stiffness of devices over storey"))
				require.Equal(r, yield.ForceRatio[0],
					o.sized(t, "yield force of devices over storey strength"))
			case "lead-rubber":
				require.Equal(r, lead.Period[0], o.sized(t, "isolated period past yield"))
				require.Equal(r, lead.YieldRatio[0], o.sized(t, "yield strength over weight"))
			case "slider":
				require.Equal(r, slide.Period[0], o.sized(t, "isolated period past yield"))
			}
		}
	})
}
