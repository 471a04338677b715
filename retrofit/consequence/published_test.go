package consequence

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Checks against published values and formulas. Each names its source.

// exceedance returns the probability that demand exceeds a lognormal capacity.
//
//	P = Phi(ln(demand/median)/dispersion)
//
// demand and median share a unit; median > 0; dispersion is the total ln
// standard deviation. Demand of 0 or less never exceeds. A dispersion of 0 is a
// step at the median. Beyond 6 standard deviations the
// result is 0 or 1. A NaN gives NaN. The form of a
// fragility in Kennedy and Short 1994 and since, from memory.
func exceedance(demand, median, dispersion float64) float64 {
	f := newFragility(math.Log(median), dispersion, 1)
	return f.at(lnDemand(demand))
}

// oneComponent is a Model in which the whole value sits in one component that
// loses by its own demand only: nothing is pulled down.
func oneComponent(t *testing.T, steps ...Step) (*Model, *Exposure) {
	t.Helper()
	o := DefaultOptions()
	o.DriftFitOut = steps
	m, err := New(o)
	require.NoError(t, err)
	never := math.Inf(1)
	return m, &Exposure{Value: 1, Split: Split{DriftFitOut: 1}, Limits: [3]float64{never, never, never},
		Collapse: never, Irreparable: never}
}

// powerLaw returns levels whose demand a has the annual frequency k0 a^-k, from
// 100/yr to 1e-12/yr: fine and wide enough that the error of the integral lies
// below 1e-5, as its convergence shows.
func powerLaw(k0, k float64) (levels []Level, freq []float64) {
	const n = 6000
	for i := range n {
		v := 100 * math.Pow(10, -14*float64(i)/(n-1))
		a := math.Pow(v/k0, -1/k)
		levels = append(levels, Level{DriftRatio: a, Drift: Even(a)})
		freq = append(freq, v)
	}
	return levels, freq
}

func TestLognormalAgainstReference(t *testing.T) {
	// Published test fixture of the USGS risk-targeted ground motion calculator:
	// lognormal distribution function at 1.3, mean of ln 1.6, sd 0.6.
	assert.InDelta(t, 0.012893887361471, exceedance(1.3, math.Exp(1.6), 0.6), 1e-9)
	// 75 % quantile of the same: ln x = 2.0046938501176.
	assert.InDelta(t, 0.75, exceedance(math.Exp(2.0046938501176), math.Exp(1.6), 0.6), 1e-9)
}

// allOf returns the rule over every level of the annual frequencies freq.
func allOf(freq []float64) *Rule {
	var years []float64
	for _, v := range freq {
		years = append(years, 1/v)
	}
	r := NewRule(years, years, nil)
	return &r
}

func TestExceedanceDomain(t *testing.T) {
	assert.Zero(t, exceedance(0, 1, 0.5))
	assert.Zero(t, exceedance(-1, 1, 0.5))
	assert.Equal(t, 1.0, exceedance(math.Inf(1), 1, 0.5))
	assert.True(t, math.IsNaN(exceedance(math.NaN(), 1, 0.5)))
	assert.InDelta(t, 0.5, exceedance(0.02, 0.02, 0.5), 1e-15)
	for z := -7.0; z < 7; z += 0.001 { // math.Erfc; 2e-10 is the stated error of the table
		assert.InDelta(t, 0.5*math.Erfc(-z/math.Sqrt2), normal(z), 1e-9)
	}
	assert.Zero(t, exceedance(0.999, 1, 0))
	assert.Equal(t, 1.0, exceedance(1.001, 1, 0))
	// The cut at 6 standard deviations drops 1e-9 (normal tables).
	assert.Zero(t, exceedance(math.Exp(-6.001), 1, 1))
	assert.InDelta(t, 1e-9, exceedance(math.Exp(-5.999), 1, 1), 1e-10)
}

func TestDispersion(t *testing.T) {
	// FEMA P-695 Table 7-2: record 0.40 with three qualities rated "good" (0.20,
	// 0.20, 0.20) totals 0.525 to its rounding to 0.025. From memory.
	assert.InDelta(t, 0.525, Dispersion(0.40, 0.20, 0.20, 0.20), 0.0125)
}

func TestLimitStateFrequencyAgainstClosedForm(t *testing.T) {
	// Cornell 1996; Kennedy and Short 1994: lambda = k0 median^-k exp(k2 b2/2).
	// Formula from memory. 1e-5: the grid, see powerLaw.
	for _, c := range []struct{ k0, k, median, b, lambda float64 }{
		{1e-4, 2, 1, 0.5, 1.648721e-4},
		{1e-4, 3, 1, 0.4, 2.054433e-4},
		// Power law through the 10 % and 2 % in 50 years points of a USGS 2008
		// curve, five medians.
		{3.10975e-4, 2.3349, 0.15, 0.5, 0.0515737},
		{3.10975e-4, 2.3349, 0.30, 0.5, 0.0102224},
		{3.10975e-4, 2.3349, 0.55, 0.5, 0.0024826},
		{3.10975e-4, 2.3349, 0.85, 0.5, 0.00089843},
		{3.10975e-4, 2.3349, 1.20, 0.5, 0.00040161},
	} {
		m, e := oneComponent(t, Step{1, 1, 1})
		e.Limits = [3]float64{c.median, 2 * c.median, 4 * c.median}
		e.Spread.Drift = c.b
		levels, freq := powerLaw(c.k0, c.k)
		var a Annual
		m.Annual(e, levels, allOf(freq), &a)
		assert.InEpsilon(t, c.lambda, a.LimitState[0], 2e-5)
		// A median twice as high lowers the frequency by 2^k exactly.
		assert.InEpsilon(t, c.lambda/math.Pow(2, c.k), a.LimitState[1], 2e-5)
		assert.InEpsilon(t, c.lambda/math.Pow(4, c.k), a.LimitState[2], 2e-5)
	}
}

// A hazard curve of peak ground acceleration (g, 1/yr): USGS 2008 model, 34.0N
// 118.0W, Vs30 760 m/s, from the public test fixtures of its design web service.
var (
	curveA = []float64{0.005, 0.007, 0.0098, 0.0137, 0.0192, 0.0269, 0.0376, 0.0527, 0.0738, 0.103,
		0.145, 0.203, 0.284, 0.397, 0.556, 0.778, 1.09, 1.52, 2.13}
	curveV = []float64{0.4679, 0.3925, 0.3172, 0.248, 0.188, 0.139, 0.1006, 0.07031, 0.04694, 0.02956,
		0.0171, 0.00937, 0.004966, 0.002603, 0.001316, 0.0006023, 0.0002285, 0.00006808, 0.00001371}
)

func TestLimitStateFrequencyOnRealCurve(t *testing.T) {
	// Median 1.0727 g, dispersion 0.6: 6.4439e-4 by numerical integration of the
	// curve interpolated in logarithms; the closed form, 7.0428e-4, is an
	// upper-side estimate. 0.5 %: where the curve ends the two treat the tail apart.
	var levels []Level
	var freq []float64
	const steps = 50
	for i := range curveA[:len(curveA)-1] {
		for s := range steps {
			w := float64(s) / steps
			levels = append(levels, Level{DriftRatio: math.Pow(curveA[i], 1-w) * math.Pow(curveA[i+1], w)})
			freq = append(freq, math.Pow(curveV[i], 1-w)*math.Pow(curveV[i+1], w))
		}
	}
	last := len(curveA) - 1
	levels, freq = append(levels, Level{DriftRatio: curveA[last]}), append(freq, curveV[last])
	m, e := oneComponent(t, Step{1, 1, 1})
	e.Limits = [3]float64{1.0727, 1.0727, 1.0727}
	e.Spread.Drift = 0.6
	var a Annual
	m.Annual(e, levels, allOf(freq), &a)
	assert.InEpsilon(t, 6.4439e-4, a.LimitState[0], 0.005)
	assert.Less(t, a.LimitState[0], 7.0428e-4)
}

// fiveGrades are the loss ratios of Di Pasquale and Goretti 2001 by grade of the
// European Macroseismic Scale 1998 (from memory), as steps at medians in g.
func fiveGrades(scale float64) []Step {
	medians := []float64{0.15, 0.30, 0.55, 0.85, 1.2}
	ratios := []float64{0.035, 0.145, 0.305, 0.80, 0.95}
	var out []Step
	before := 0.0
	for i, r := range ratios {
		out = append(out, Step{scale * medians[i], 0.5, r - before})
		before = r
	}
	return out
}

func TestAnnualLossAgainstClosedForm(t *testing.T) {
	// Sum of ratio steps times the closed-form frequency of each grade (Cornell
	// 1996). The number is computed from the published formula. 1e-4 relative.
	levels, freq := powerLaw(3.10975e-4, 2.3349)
	m, e := oneComponent(t, fiveGrades(1)...)
	var a Annual
	m.Annual(e, levels, allOf(freq), &a)
	assert.InEpsilon(t, 0.0038317, a.Total, 1e-4)
	assert.InEpsilon(t, 0.069952, Appraise(a.Total, 0, 50, 0.05)[0].Present, 1e-4)

	// Under H = k0 a^-k all medians x 1.6 scale the loss by 1.6^-k.
	m, e = oneComponent(t, fiveGrades(1.6)...)
	var scaled Annual
	m.Annual(e, levels, allOf(freq), &scaled)
	assert.InEpsilon(t, 0.333734, scaled.Total/a.Total, 1e-5)
}

// The rungs of a run against the closed form (Cornell 1996; Cornell and others 2002, Journal of
// Structural Engineering 128(4):526, equation 9; from memory): demand a = T^(1/k) with the step at
// median m has the frequency m^-k exp(k2 b2/2), of which the rule leaves out what is more frequent
// than 10 years and holds what is rarer than 10,000. 1 % is what the method page promises of the
// part between, where the comparison is with a fine rule; where the parts outside hold less than
// 0.5 % each the closed form is within 1.5 %.
func TestRungsAgainstClosedForm(t *testing.T) {
	m, e := oneComponent(t, Step{1, 1, 1})
	of := func(years []float64, k float64) (p [NumLimitStates]float64) {
		var levels []Level
		for _, tr := range years {
			levels = append(levels, Level{DriftRatio: math.Pow(tr, 1/k)})
		}
		r := NewRule(years, years, nil)
		var a Annual
		m.Annual(e, levels, &r, &a)
		return a.LimitState
	}
	var fine []float64
	compared := 0
	for i := range 201 {
		fine = append(fine, 10*math.Pow(1000, float64(i)/200))
	}
	for _, k := range []float64{1, 1.5, 2.3349, 3, 4} {
		for _, b := range []float64{0.5, 0.6, 0.75} {
			e.Spread.Drift = b
			for i, tr := range []float64{100, 400, 1500} {
				e.Limits[i] = math.Pow(tr, 1/k)
			}
			rungs, exact := of(m.Rungs(nil), k), of(fine, k)
			for i, tr := range []float64{100, 400, 1500} {
				assert.InEpsilon(t, exact[i], rungs[i], 0.01, "k %g, b %g, state %d", k, b, i)
				// ln T of the shaking that makes up the closed form is normal about ln Tm - (k b)2.
				beyond := func(years float64) float64 { return (math.Log(years/tr) + k*k*b*b) / (k * b) }
				if normal(beyond(10)) < 0.005 && normal(-beyond(10000)) < 0.005 {
					compared++
					assert.InEpsilon(t, math.Exp(k*k*b*b/2)/tr, rungs[i], 0.015, "k %g, b %g, state %d", k, b, i)
				}
			}
		}
	}
	assert.Greater(t, compared, 8)
}

func TestPresentFactor(t *testing.T) {
	// Factors printed to four decimals in any table of engineering economy.
	assert.InDelta(t, 18.2559, PresentFactor(0.05, 50), 5e-5)
	assert.InDelta(t, 25.7298, PresentFactor(0.03, 50), 5e-5)
	assert.InDelta(t, 13.8007, PresentFactor(0.07, 50), 5e-5)
	assert.Equal(t, 50.0, PresentFactor(0, 50))
	assert.InDelta(t, 50, PresentFactor(1e-9, 50), 1e-5, "continuous at zero")
	assert.True(t, math.IsNaN(PresentFactor(-1, 50)))
	assert.True(t, math.IsNaN(PresentFactor(0.05, -1)))
	assert.True(t, math.IsNaN(PresentFactor(math.NaN(), 50)))
}

func TestAppraise(t *testing.T) {
	got := Appraise(1000, 10000, 50, 0.05)
	assert.Equal(t, [3]float64{0.05, 0.03, 0.07}, [3]float64{got[0].Rate, got[1].Rate, got[2].Rate})
	assert.InDelta(t, 18255.9, got[0].Present, 0.05)
	assert.InDelta(t, 8255.9, got[0].Net, 0.05)
	assert.InDelta(t, 2.57298, got[1].Ratio, 5e-6)
	free := Appraise(0, 0, 50, 0.05)
	assert.True(t, math.IsNaN(free[0].Ratio))
	assert.Negative(t, Appraise(-5, 1, 50, 0.05)[0].Ratio)
}

func TestPublishedRows(t *testing.T) {
	o := DefaultOptions()
	// ATC-13 1985 Table 9.3 at central damage factors 20, 45, 80, 100 %; from memory.
	for i, want := range []State{{Dead: 1e-4, Serious: 4e-4, Minor: 3e-3},
		{Dead: 1e-3, Serious: 4e-3, Minor: 0.03},
		{Dead: 0.01, Serious: 0.04, Minor: 0.3}, {Serious: 0.4 / 0.8, Minor: 0.4 / 0.8}} {
		got := o.States[i]
		assert.Equal(t, want, State{Dead: got.Dead, Serious: got.Serious, Minor: got.Minor})
	}
	// Taghavi and Miranda 2003: structure, non-structural, contents in percent of
	// the investment; from memory. 0.005 is their rounding to whole percents.
	for use, p := range map[string][3]float64{"office": {18, 62, 20}, "hotel": {13, 70, 17},
		"hospital": {8, 48, 44}} {
		s := o.Splits[use]
		building := p[0] + p[1]
		assert.InDelta(t, p[0]/building, s.Structure, 0.005, use)
		assert.InDelta(t, p[1]/building, s.DriftFitOut+s.AccelFitOut, 0.005, use)
		assert.InDelta(t, p[2]/building, s.Contents, 0.006, use)
	}
}
