package demand

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"plinth/archetypes"
	"plinth/hazard"
)

// closed is the tolerance on values computed from a closed published formula and
// given to five or six digits.
const closed = 1e-4

// damperDamping returns the damping, as a fraction of critical, that a damper of
// constant c in N (s/m)^alpha between ground and mass in kg adds at amplitude u
// in m to an oscillator of period t in s.
//
//	xi = lambda C (w u)^alpha u/(2 pi m w2 u2)
//
// which is C/(2 m w) for alpha = 1 at any amplitude. The energy dissipated in a
// cycle over 4 pi times the strain energy (ASCE 7-16 18.7.3).
func damperDamping(c, alpha, u, mass, t float64) float64 {
	w := 2 * math.Pi / t
	return Lambda(alpha) * c * math.Pow(w*u, alpha) * u / (2 * math.Pi * mass * w * w * u * u)
}

// Values computed by hand from ASCE 7-16 18.7 (C/(2 m w)) and from Seleemah and
// Constantinou 1997.
func TestDamperDamping(t *testing.T) {
	assert.InEpsilon(t, 0.0397887, damperDamping(500e3, 1, 0.05, 1e6, 1), 1e-5)
	assert.InEpsilon(t, 3.4961, Lambda(0.5), closed)
	assert.InEpsilon(t, 0.047399, damperDamping(300e3, 0.5, 0.05, 1e6, 1), closed)
	assert.InEpsilon(t, math.Pi, Lambda(1), 1e-12)
	// FEMA 274, table of lambda by exponent, two digits, from memory.
	for i, want := range []float64{3.7, 3.5, 3.3, 3.1, 3.0, 2.9, 2.8, 2.7} {
		assert.InDelta(t, want, Lambda(0.25*float64(i+1)), 0.05, "exponent %g", 0.25*float64(i+1))
	}
}

// The oscillator of the damper checks has 1000 t: 500 kN s/m gives 3.98 %, and a building of
// one storey with that damping must have the same response.
func TestLinearDampersAreReadAtTheirDamping(t *testing.T) {
	var w Work
	var out Response
	xi := damperDamping(500e3, 1, 0.05, 1e6, 1)
	k := 1e6 * 4 * math.Pi * math.Pi
	w.Viscous(stickOf(t, []float64{1e6}, []float64{k}, []float64{1e9}, 0, 0), workedSpectrum(0.1),
		Viscous{Alpha: 1, Damping: xi}, &out)
	assert.InEpsilon(t, 0.05+xi, out.Damping, 1e-12)
	assert.InEpsilon(t, 1, out.Period, 1e-12)
}

// Den Hartog 1956, Warburton 1982 and Sadek et al. 1997: formulas from memory;
// Den Hartog's peak and Warburton's white-noise optima were confirmed by direct
// minimisation, Sadek's by complex eigenvalues.
func TestTuning(t *testing.T) {
	for _, c := range []struct {
		mu                                                   float64
		hartogF, hartogZ, peak, baseF, baseZ, forceF, forceZ float64
		harmonicZ                                            float64
	}{
		{0.01, 0.99010, 0.06093, 14.177, 0.98762, 0.04981, 0.99257, 0.04981, 0.06109},
		{0.02, 0.98039, 0.08575, 10.050, 0.97548, 0.07019, 0.98528, 0.07019, 0.08618},
		{0.05, 0.95238, 0.13363, 6.403, 0.94040, 0.10981, 0.96421, 0.10977, 0.13533},
		{0.10, 0.90909, 0.18464, 4.583, 0.88607, 0.15273, 0.93154, 0.15254, 0.18943},
		{0.25, 0.80000, 0.27386, 3.000, 0.74833, 0.23146, 0.84853, 0.22973, 0.29277},
	} {
		h, b, f := DenHartog(c.mu), WarburtonBaseNoise(c.mu), WarburtonForceNoise(c.mu)
		got := []float64{h.Frequency, h.Damping, b.Frequency, b.Damping, f.Frequency, f.Damping,
			WarburtonBaseHarmonic(c.mu).Damping}
		want := []float64{c.hartogF, c.hartogZ, c.baseF, c.baseZ, c.forceF, c.forceZ, c.harmonicZ}
		for i := range want {
			assert.InEpsilon(t, want[i], got[i], closed+0.5e-5/want[i], "mu %g column %d", c.mu, i)
		}
	}
	for _, c := range []struct{ mu, b, f, zd float64 }{ // four digits
		{0.02, 0, 0.9804, 0.1400}, {0.05, 0, 0.9524, 0.2182}, {0.10, 0, 0.9091, 0.3015},
		{0.02, 0.02, 0.9776, 0.1596}, {0.05, 0.02, 0.9482, 0.2373}, {0.10, 0.02, 0.9036, 0.3197},
	} {
		s := SadekMode(c.mu, 1, c.b)
		assert.InDelta(t, c.f, s.Frequency, 0.5e-4)
		assert.InDelta(t, c.zd, s.Damping, 0.5e-4)
	}
}

// TestFrameDampingIsReadFromTheStick: a stick of its own damping is read from the spectrum at that
// damping, B = 4/(5.6 - ln 100 b) of ASCE 41-17 2.4.1.7.1, and one without at 5 %. Dampers add to it.
func TestFrameDampingIsReadFromTheStick(t *testing.T) {
	sp := workedSpectrum(0.02) // elastic
	st := threeStoreys(t)
	var w Work
	var code, own, less, damped Response
	w.AsIs(st, sp, &code)
	st.Damping = 0.05
	w.AsIs(st, sp, &own)
	assert.Equal(t, code, own)
	st.Damping = 0.025
	w.AsIs(st, sp, &less)
	assert.InEpsilon(t, (5.6-math.Log(2.5))/(5.6-math.Log(5)), less.Roof/code.Roof, 1e-9)
	assert.Equal(t, 0.025, less.Damping)
	assert.Greater(t, less.PeakAccel, code.PeakAccel)
	w.Viscous(st, sp, Viscous{Alpha: 1, Damping: 0.10}, &damped)
	assert.InDelta(t, 0.125, damped.Damping, 1e-12)
	for _, wrong := range []float64{-0.01, 1, math.NaN()} {
		st.Damping = wrong
		w.AsIs(st, sp, &less)
		assert.Equal(t, NotApplicable, less.Status)
	}
}

// ASCE 41-17 7.4.3.3 from memory, values computed by hand with g = 9.81 m/s2.
func TestTargetDisplacement(t *testing.T) {
	target := Target{Sa: 1, Period: 0.4, Strength: 0.25, C0: 1.3, Cm: 1, A: SiteFactor('D')}
	r := target.Displacement(9.81)
	assert.InEpsilon(t, 4.0, r.Ratio, closed)
	assert.InEpsilon(t, 1.3125, r.C1, closed)
	assert.InEpsilon(t, 1.07031, r.C2, closed)
	assert.InEpsilon(t, 0.072608, r.Displacement, closed)
	for _, c := range []struct {
		mu, te float64
		site   hazard.SiteClass
		c1, c2 float64
	}{
		{3, 0.5, 'D', 1.13333, 1.02}, {6, 0.25, 'C', 1.88889, 1.5}, {2, 0.8, 'D', 1.02604, 1.0},
	} {
		assert.InEpsilon(t, c.c1, CodeC1(c.mu, c.te, SiteFactor(c.site)), closed)
		assert.InEpsilon(t, c.c2, CodeC2(c.mu, c.te), closed)
	}
	assert.Equal(t, 1.0, CodeC1(4, 1.01, 60))
	elastic := Target{Sa: 0.2, Period: 0.4, Strength: 0.25, C0: 1, Cm: 1, A: 60}
	assert.Equal(t, TargetResult{Ratio: 0.8, C1: 1, C2: 1,
		Displacement: elastic.Displacement(9.81).Displacement}, elastic.Displacement(9.81))
}

// ASCE 41-17 Table 7-5, from memory.
func TestRoofFactor(t *testing.T) {
	for _, c := range []struct {
		storeys      int
		shear, other float64
	}{{1, 1.0, 1.0}, {2, 1.2, 1.2}, {3, 1.2, 1.3}, {4, 1.25, 1.35}, {5, 1.3, 1.4}, {10, 1.3, 1.5},
		{40, 1.3, 1.5}} {
		assert.InDelta(t, c.shear, RoofFactor(c.storeys, true), 1e-12, "%d", c.storeys)
		assert.InDelta(t, c.other, RoofFactor(c.storeys, false), 1e-12, "%d", c.storeys)
	}
}

// TestTargetOfASystem: ASCE 41-17 Tables 7-4 and 7-5, from memory. A wall of 14 storeys has C0 1.5
// where a frame has 1.3; from three storeys up to 1 s the first mode moves 0.8 of the mass of a wall
// and 0.9 of that of a frame, and the strength ratio is the less for it.
func TestTargetOfASystem(t *testing.T) {
	for _, c := range []struct {
		system archetypes.System
		storey int
		period float64
		c0, cm float64
	}{
		{archetypes.ConcreteWall, 14, 0.9, 1.5, 0.8}, {archetypes.ConcreteWall, 5, 0.5, 1.4, 0.8},
		{archetypes.ConcreteWall, 14, 1.01, 1.5, 1}, {archetypes.ConcreteWall, 2, 0.3, 1.2, 1},
		{archetypes.ConcreteFrame, 10, 0.9, 1.3, 0.9}, {archetypes.SteelMomentFrame, 5, 0.9, 1.3, 0.9},
		{archetypes.SteelBracedFrame, 10, 0.9, 1.5, 0.9}, {archetypes.ConcreteWallFrame, 10, 0.9, 1.5, 0.8},
		{archetypes.MasonryUnreinforced, 5, 0.4, 1.4, 1}, {archetypes.TimberFrame, 1, 0.2, 1, 1},
	} {
		a := archetypes.Archetype{System: c.system, Storeys: c.storey, Period: c.period, StrengthRatio: 0.2}
		target := TargetOf(&a, 0.8, 'D')
		assert.InDelta(t, c.c0, target.C0, 1e-12, c)
		assert.Equal(t, c.cm, target.Cm, c)
		assert.InDelta(t, 4*c.cm, target.Displacement(9.81).Ratio, 1e-12, c)
	}
}

// ASCE 41-17 2.4.1.7.1 as printed in comparisons of damping factors.
func TestReduction(t *testing.T) {
	for _, c := range []struct{ damping, b float64 }{{0.05, 1.0024}, {0.10, 1.2131}, {0.20, 1.5359},
		{0.30, 1.8192}} {
		assert.InEpsilon(t, c.b, reduction(c.damping), closed)
		assert.InEpsilon(t, hazard.ReductionASCE41(c.damping), reduction(c.damping), 1e-12)
	}
	assert.InEpsilon(t, reduction(0.5), reduction(0.5+1e-12), 1e-9, "no step at the knee")
}
