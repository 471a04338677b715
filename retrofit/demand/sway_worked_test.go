package demand

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The limit of Chopra and Chintanapakdee 2004 (from memory): at period 0 the force has to reach the
// elastic one, L = (1 + (mu - 1)/r)/mu. By hand: mu 4, r 0.05: (1 + 60)/4 = 15.25. With their
// constants, 61/4^2.4 + 1.5 = 3.690 at T/Tc = 1: 1 + 1/(1/14.25 + 3.690) = 1.2660.
func TestDisplacementRatioOfStiffBuildings(t *testing.T) {
	assert.InEpsilon(t, 15.25, hardened(4, 1e-12, 0.05, 0), 1e-9)
	assert.InEpsilon(t, 1.2660, hardened(4, 61/math.Pow(4, 2.4)+1.5, 0.05, 0), closed)
	assert.True(t, math.IsInf(hardened(4, 0, 0.05, 0), 1), "the weight wins")
}

// Where hardening ends at h V, the ratio is that of a spring whose mean slope to the displacement
// reached is (h - 1)/(mu C - 1): the formula gives itself back. Up to mu = h the end is not reached
// and does not matter.
func TestHardeningThatEnds(t *testing.T) {
	for _, g := range []float64{0.02, 0.2} {
		for _, mu := range []float64{3, 4, 9} {
			c := hardened(mu, g, 0.03, 1.25)
			assert.InEpsilon(t, c, hardened(mu, g, 0.25/(mu*c-1), 0), 1e-9, "mu %g, g %g", mu, g)
			assert.GreaterOrEqual(t, c, hardened(mu, g, 0.03, 0)*(1-1e-12), "mu %g, g %g", mu, g)
		}
	}
	assert.Equal(t, hardened(1.2, 0.001, 0.03, 0), hardened(1.2, 0.001, 0.03, 1.25))
}

// A stiff structure that yields and does not harden travels like a block that slides (Newmark 1965):
// C Sd does not depend on the period below the range of the fit.
func TestStiffStructuresSlide(t *testing.T) {
	travel := func(x float64) float64 { return hardened(5, 3*fitted.period(x), 0, 0) - 1 }
	assert.InEpsilon(t, travel(0.1)*0.1*0.1, travel(0.05)*0.05*0.05, 1e-12)
	assert.InEpsilon(t, travel(c1Least), travel(c1Least*(1-1e-12)), 1e-9, "no step")
}

// ASCE 41-17 equation 7-32, from memory, by hand: at T 1 s the exponent is 1, so a stability
// coefficient of 0.05 gives 1 + 20/4 = 6; at 0.5 s it is 0.8960, 0.05^-0.8960 = 14.647, and 4.6618. With
// 3 % hardening up to 1.25 V and a coefficient of 0.02 it is 1 + 0.25/0.03 + 50/4 = 21.83 at 1 s.
// Without an end of hardening above that coefficient the building stands.
func TestLargestStrengthRatio(t *testing.T) {
	for _, c := range []struct{ theta, period, r, most, want float64 }{
		{0.05, 1, 0, 0, 6}, {0.05, 0.5, 0.03, 1.25, 4.6618}, {0.02, 1, 0.03, 1.25, 21.8333},
		{0.02, 1, 0.03, 0, math.Inf(1)},
	} {
		k := 4 * math.Pi * math.Pi / (c.period * c.period)
		st := stickOf(t, []float64{1}, []float64{k}, []float64{1}, c.r, 0)
		st.Hardened, st.Height[0] = c.most, 9.80665/(k*c.theta)
		var w Work
		var out Response
		w.AsIs(st, workedSpectrum(0.5), &out)
		assert.InEpsilon(t, c.theta, w.Trace.Sway, 1e-9)
		if math.IsInf(c.want, 1) {
			assert.Equal(t, c.want, w.Trace.Most)
			continue
		}
		assert.InEpsilon(t, c.want, w.Trace.Most, closed, "theta %g", c.theta)
		fallen := out.Status&CollapseCounted != 0
		assert.Equal(t, out.Ductility > c.want, fallen, "strength ratio %g", out.Ductility)
	}
}

// Where the hardening is gone the drift that is plastic goes into one storey: the next has
// exp(-2) of it, half a storey of spread on each side.
func TestPlasticDriftWithoutHardening(t *testing.T) {
	var w Work
	var out Response
	st := stickOf(t, []float64{1, 1}, []float64{900, 600}, []float64{3, 2}, 0, 0) // equal overload
	w.AsIs(st, workedSpectrum(1), &out)
	tr := &w.Trace
	s2 := tr.YieldFraction * tr.YieldFraction // the part that is as even as the first mode
	own := func(i int) float64 { return tr.Weight[i] - s2*tr.First[i]/(tr.First[0]+tr.First[1]) }
	assert.InEpsilon(t, math.Exp(-2), own(1)/own(0)*tr.First[0]/tr.First[1]/
		math.Pow(tr.Overload[1]/tr.Overload[0], fitted.Concentrate), 1e-9)
}
