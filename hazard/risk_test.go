package hazard

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestFragility(t *testing.T) {
	// USGS risk-targeted ground motion calculator, public test fixtures: mean of
	// ln 1.6, standard deviation 0.6; the quantile is given as its logarithm.
	f := Fragility{Median: math.Exp(1.6), Beta: 0.6}
	assert.InDelta(t, 0.012893887361471, f.Probability(1.3), 1e-9)
	assert.InDelta(t, 2.0046938501176, math.Log(f.Quantile(0.75)), 1e-9)
	// FEMA P-695 Table 7-3 (from memory): median over the 10 % and 20 % motion.
	for _, c := range [][3]float64{{0.525, 0.1, 1.96}, {0.6, 0.1, 2.16}, {0.525, 0.2, 1.56},
		{0.6, 0.2, 1.66}} {
		one := Fragility{Median: 1, Beta: c[0]}
		assert.InDelta(t, c[2], 1/one.Quantile(c[1]), 0.005)
	}
}

func TestClosedFormRisk(t *testing.T) {
	// Cornell (1996), from memory; numbers by hand.
	for _, c := range []struct{ k, beta, lambda, p50 float64 }{
		{2, 0.5, 1.648721e-4, 0.0082097},
		{3, 0.4, 2.054433e-4, 0.0102196},
	} {
		lambda := powerCurve{1e-4, c.k}.risk(Fragility{Median: 1, Beta: c.beta})
		assert.InEpsilon(t, c.lambda, lambda, 1e-6)
		assert.InEpsilon(t, c.p50, -math.Expm1(-50*lambda), 1e-5)
	}
}

// riskTargetedCurve is the curve of the USGS risk-targeted ground motion
// calculator's public test.
var riskTargetedCurve = [2][]float64{
	losAngelesOne[0],
	{0.4782, 0.3901, 0.3055, 0.2322, 0.1716, 0.1241, 0.08621, 0.05687, 0.03492, 0.01985, 0.01045, 0.005095,
		0.002302, 0.0009371, 0.0003308, 9.488e-5, 1.952e-5, 2.174e-6, 8.553e-8, 1.315e-10},
}

func TestRiskTargeted(t *testing.T) {
	c := curve(t, riskTargetedCurve)
	target := ASCE7Risk
	target.Beta = 0.8
	uniform, _ := c.Sa(AnnualFrequency(0.02, 50))
	assert.InDelta(t, 0.6753857172769, uniform, 1e-9)

	// Risk over target: the calculator's own, whose integration is coarser, to
	// 0.1 %, and a fine integration of the same curve to half its last digit.
	for _, p := range []struct{ a, theirs, fine float64 }{
		{uniform, 0.89937, 0.89902},
		{0.607422595, 1.15447, 1.15401},
		{0.645635436, 1.00077, 1.00038},
	} {
		risk, status := c.Risk(target.fragility(p.a))
		assert.Zero(t, status)
		assert.InEpsilon(t, p.theirs, risk/target.Frequency, 1e-3)
		assert.InDelta(t, p.fine, risk/target.Frequency, 1e-5)
	}
	a, status, err := c.RiskTargeted(target)
	require.NoError(t, err)
	assert.Zero(t, status)
	assert.InEpsilon(t, 0.645635436, a, 1e-3)
	assert.InEpsilon(t, 0.9559507, a/uniform, 1e-3)
	assert.InDelta(t, 0.95610, a/uniform, 1e-5)
}

func TestRiskTargetedOnAPowerLaw(t *testing.T) {
	// On a straight curve the ratio to the 2 % in 50 years motion is
	// [(lambdaU/lambdaT) exp(k2 b2/2)]^(1/k) exp(-1.2816 b): 0.94193 for k = 2 and
	// 1.00381 for k = 3 at b = 0.6, by hand.
	for _, c := range [][2]float64{{2, 0.94193}, {3, 1.00381}} {
		p := powerCurve{1e-4, c[0]}
		straight := curve(t, [2][]float64{{1e-3, 1e3}, {p.frequency(1e-3), p.frequency(1e3)}})
		a, _, err := straight.RiskTargeted(ASCE7Risk)
		require.NoError(t, err)
		uniform, _ := straight.Sa(AnnualFrequency(0.02, 50))
		assert.InDelta(t, c[1], a/uniform, 2e-5)
	}
}

func TestRiskAgainstClosedForm(t *testing.T) {
	// On a straight curve the integral is the closed form.
	rapid.Check(t, func(t *rapid.T) {
		p := powerCurve{1e-4, rapid.Float64Range(0.5, 4).Draw(t, "k")}
		f := Fragility{Median: rapid.Float64Range(0.1, 2).Draw(t, "median"),
			Beta: rapid.Float64Range(0.2, 0.8).Draw(t, "beta")}
		c, err := NewCurve([]float64{1e-5, 1e4}, []float64{p.frequency(1e-5), p.frequency(1e4)})
		require.NoError(t, err)
		lambda, status := c.Risk(f)
		assert.Zero(t, status)
		assert.InEpsilon(t, p.risk(f), lambda, 1e-6)

		// Cut off anywhere, its last slope is the whole curve's.
		end := rapid.Float64Range(0.05, 3).Draw(t, "end")
		cut, err := NewCurve([]float64{1e-5, end}, []float64{p.frequency(1e-5), p.frequency(end)})
		require.NoError(t, err)
		lambda, _ = cut.Risk(f)
		assert.InEpsilon(t, p.risk(f), lambda, 1e-6)
	})
	// On a real curve it is an estimate from above. Los Angeles PGA, median 1.2
	// times the 2 % in 50 years value: 6.4439e-4 against 7.0428e-4, computed.
	c := curve(t, losAngelesPGA)
	a1, _ := c.Sa(AnnualFrequency(0.10, 50))
	a2, _ := c.Sa(AnnualFrequency(0.02, 50))
	p := powerCurveThrough(a1, AnnualFrequency(0.10, 50), a2, AnnualFrequency(0.02, 50))
	f := Fragility{Median: 1.2 * a2, Beta: 0.6}
	lambda, _ := c.Risk(f)
	assert.InEpsilon(t, 6.4439e-4, lambda, 5e-3)
	assert.InEpsilon(t, 7.0428e-4, p.risk(f), 1e-4)
}

// A curve that ends early gives a little more risk-targeted motion than one that goes on, never less.
func TestRiskTargetedOfACurveThatEnds(t *testing.T) {
	full := curve(t, losAngelesShort)
	want, _, err := full.RiskTargeted(ASCE7Risk)
	require.NoError(t, err)
	sa, freq := losAngelesShort[0], losAngelesShort[1]
	for n := len(sa) - 1; sa[n-1] > 1.2*want; n-- {
		cut, err := NewCurve(sa[:n], freq[:n])
		require.NoError(t, err)
		got, status, err := cut.RiskTargeted(ASCE7Risk)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, got, want*(1-1e-8), "to %g g", sa[n-1])
		assert.InEpsilon(t, want, got, 0.015, "to %g g, status %v", sa[n-1], status.Words())
	}
}

func TestRiskOfASharpThreshold(t *testing.T) {
	c := curve(t, losAngelesPGA)
	sharp, _ := c.Risk(Fragility{Median: 0.5})
	near, _ := c.Risk(Fragility{Median: 0.5, Beta: 0.01})
	assert.InEpsilon(t, sharp, near, 1e-3)
}

func TestRiskBeyondTheCurve(t *testing.T) {
	c := curve(t, losAngelesPGA)
	_, status := c.Risk(Fragility{Median: 4, Beta: 0.4})
	assert.Equal(t, AboveRange, status)
	_, status = c.Risk(Fragility{Median: 0.004, Beta: 0.4})
	assert.Equal(t, BelowRange, status)
	_, _, err := c.RiskTargeted(RiskTarget{Frequency: 1e-9, AtMotion: 0.1, Beta: 0.6})
	assert.ErrorContains(t, err, "needs more points")
	_, _, err = c.RiskTargeted(RiskTarget{})
	assert.ErrorContains(t, err, "must be positive")
}

func BenchmarkRisk(b *testing.B) {
	c := curve(b, losAngelesPGA)
	b.ReportAllocs()
	for range b.N {
		c.Risk(Fragility{Median: 1, Beta: 0.6})
	}
}

func BenchmarkRiskTargeted(b *testing.B) {
	c := curve(b, losAngelesPGA)
	b.ReportAllocs()
	for range b.N {
		if _, _, err := c.RiskTargeted(ASCE7Risk); err != nil {
			b.Fatal(err)
		}
	}
}
