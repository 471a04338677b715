package demand

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
)

// grav is the gravity the hand cases of this file were computed with.
const grav = 9.81

// branches returns a spectrum of straight lines in ln Sa - ln T through nodes of
// period in s and acceleration in units of grav.
func branches(nodes ...hazard.Node) *hazard.Spectrum {
	sp := &hazard.Spectrum{}
	sp.SetNodes(nodes[0].Sa, nodes[0].T, nodes[0].T, nodes...)
	sp.Scale(grav / hazard.Gravity)
	return sp
}

// velocitySpectrum returns the 1/T branch of a 1 s acceleration sm1 in units of
// grav, from 0.1 to 20 s.
func velocitySpectrum(sm1 float64) *hazard.Spectrum {
	return branches(hazard.Node{T: 0.1, Sa: 10 * sm1}, hazard.Node{T: 20, Sa: sm1 / 20})
}

// systemOf returns isolators per unit weight: qd over weight, sliding period td
// in s and dy in m.
func systemOf(qd, td, dy float64) System {
	w := 2 * math.Pi / td
	return System{Mass: 1 / grav, Qd: qd, Kd: w * w / grav, Dy: dy}
}

// ASCE 7-16 17.5, values computed by hand by plain iteration.
func TestSolveDisplacementByHand(t *testing.T) {
	check := func(what string, e Equilibrium, d, v, period, damping, b float64) {
		t.Helper()
		assert.InEpsilon(t, d, e.Displacement, closed, what)
		assert.InEpsilon(t, v, e.Stiffness*e.Displacement, closed, what)
		assert.InEpsilon(t, period, e.Period, closed, what)
		assert.InEpsilon(t, damping, e.Damping, closed, what)
		assert.InEpsilon(t, b, e.Reduction, closed, what)
		assert.Equal(t, 1, e.Roots, what)
	}
	lead := SolveDisplacement(systemOf(0.05, 3, 0.01), velocitySpectrum(0.9), hazard.ReductionIsolation,
		Start{})
	check("lead-rubber", lead, 0.48307, 0.26600, 2.70338, 0.11719, 1.25156)
	p := slidingPendulum{Friction: 0.06, Radius: 2.235}
	pendulum := SolveDisplacement(p.device(1/grav, grav), velocitySpectrum(0.9), hazard.ReductionIsolation,
		Start{})
	check("pendulum", pendulum, 0.43397, 0.25417, 2.62128, 0.15028, 1.35085)
	// EN 1998-1 10.9.3, type 1 ground C, ag 0.24 g: S 1.15, TC 0.6, TD 2 s.
	const plateau = 2.5 * 0.24 * 1.15
	ec8 := branches(hazard.Node{T: 0.2, Sa: plateau}, hazard.Node{T: 0.6, Sa: plateau},
		hazard.Node{T: 2, Sa: plateau * 0.6 / 2}, hazard.Node{T: 4, Sa: plateau * 0.6 * 2 / 16})
	e := SolveDisplacement(systemOf(0.05, 3, 0.01), ec8, hazard.ReductionEN1998, Start{})
	check("EN 1998-1", e, 0.11316, 0.1006, 2.12764, 0.28845, 1/0.55)
}

// ASCE 7-16 17.5, formulas from memory, values computed by hand.
func TestIsolationCode(t *testing.T) {
	plan := Torsion{Lever: 30, Ratio: 1, Eccentricity: 3, Width: 40, Length: 60}
	assert.InEpsilon(t, 0.60385, plan.TotalDisplacement(0.5), closed)
	plan.Ratio = 1.1
	assert.InEpsilon(t, 0.58582, plan.TotalDisplacement(0.5), closed)
	plan.Eccentricity = 0
	assert.InEpsilon(t, 1.15*0.5, plan.TotalDisplacement(0.5), 1e-12)

	// F(D) - F(D/2) = Kd D/2 past yield: a pendulum needs D > 0.05 R.
	p := slidingPendulum{Friction: 0.06, Radius: 2}
	s := p.device(1/grav, grav)
	rise, ok := s.Restores(0.11, 1)
	assert.True(t, ok)
	assert.InEpsilon(t, 0.0275, rise, 1e-12)
	_, ok = s.Restores(0.09, 1)
	assert.False(t, ok)
}

// Naeim and Kelly 1999, formulas from memory, values computed by hand.
func TestLeadRubberBearing(t *testing.T) {
	bearing := LeadRubberBearing{
		Diameter: 0.650, Lead: 0.170, Rubber: 0.150, ShearModulus: 0.4e6, LeadStress: LeadStress,
		StiffRatio: 10,
	}
	s := bearing.Device(1000e3 / grav)
	const d = 0.250
	assert.InEpsilon(t, 0.82435e6, s.Kd, closed)
	assert.InEpsilon(t, 226.980e3, s.Qd, closed)
	assert.InEpsilon(t, 30.594e-3, s.Dy, closed)
	assert.InEpsilon(t, 1.73227e6, s.Stiffness(d), closed)
	assert.InEpsilon(t, 433.069e3, s.Force(d), closed)
	assert.InEpsilon(t, 0.29283, s.Damping(d), closed)
	assert.InEpsilon(t, 199.203e3, s.Dissipated(d), closed)
	assert.InEpsilon(t, 1.52418, s.Period(d), closed)
}

// Zayas, Low and Mahin 1990, formulas from memory, values computed by hand.
func TestSlidingPendulum(t *testing.T) {
	for _, c := range []struct{ mu, r, d, force, period, damping float64 }{
		{0.05, 1.55, 0.20, 0.17903, 2.12029, 0.17779},
		{0.08, 3.0, 0.4, 0.21333, 2.74692, 0.23873},
		{0.04, 2.235, 0.4, 0.21897, 2.71133, 0.11629},
	} {
		p := slidingPendulum{Friction: c.mu, Radius: c.r}
		s := p.device(1/grav, grav)
		assert.InEpsilon(t, c.force, s.Force(c.d), closed)
		assert.InEpsilon(t, c.period, s.Period(c.d), closed)
		assert.InEpsilon(t, c.damping, s.Damping(c.d), closed)
	}
	// Standard radii in inches and their periods in s, from memory.
	for _, c := range []struct{ inches, period float64 }{{39, 2.00}, {61, 2.50}, {88, 3.00}, {156, 3.99}} {
		p := slidingPendulum{Friction: 0.06, Radius: c.inches * 0.0254}
		s := p.device(1, grav)
		assert.InDelta(t, c.period, s.SlidingPeriod(), 0.0051)
	}
}

// A linear isolator (hardly any Qd) with dampers is an oscillator: its damping is
// C/(2 m w) and its force k D sqrt(1 + 4 b2) (textbook; Chopra 2012 chapter 3).
func TestDampersBesideIsolators(t *testing.T) {
	s := systemOf(1e-9, 2.5, 1e-6)
	s.C = 2 * 0.2 * math.Sqrt(s.Mass*s.Kd)
	assert.InEpsilon(t, 0.2, s.Damping(0.3), 1e-6)
	assert.InEpsilon(t, s.Kd*0.3*math.Sqrt(1+4*0.2*0.2), s.Shear(0.3), 1e-6)
	assert.InEpsilon(t, math.Pi*s.C*2*math.Pi/2.5*0.09, s.Dissipated(0.3), 1e-6)

	// The force along a harmonic cycle past yield is never above Shear, and reaches it.
	s = systemOf(0.06, 3, 0.01)
	s.C = 0.3 * math.Sqrt(s.Mass*s.Kd)
	const d = 0.25
	most := 0.0
	for x := -d + 2*s.Dy; x < d; x += 1e-4 {
		most = max(most, s.Qd+s.Kd*x+s.C*math.Sqrt(s.Stiffness(d)/s.Mass)*math.Sqrt(d*d-x*x))
	}
	assert.InEpsilon(t, most, s.Shear(d), 1e-5)
	s.C = 0
	assert.InEpsilon(t, s.Stiffness(d)*d, s.Shear(d), 1e-12)
}

// Dampers in parallel with isolators reduce displacement; none leaves isolation unchanged; and
// beyond a level they raise floor acceleration (Tsai and Kelly 1993; Kelly 1999).
func TestDampersRaiseFloorAcceleration(t *testing.T) {
	var w Work
	var fixed, none, some, most Response
	st, sp := threeStoreys(t), workedSpectrum(1)
	w.AsIs(st, sp, &fixed)
	d := Isolation{Kind: LeadRubber, Qd: 0.9, K1: 201.42, K2: 20.142, BaseMass: 1,
		Reduction: hazard.ReductionIsolation}
	w.Isolated(st, sp, d, &fixed, &none)
	d.Dampers = 0.05
	w.Isolated(st, sp, d, &fixed, &some)
	d.Dampers = 0.5
	w.Isolated(st, sp, d, &fixed, &most)
	assert.Zero(t, none.Status&OutOfDomain)
	assert.NotZero(t, some.Status&OutOfDomain)
	assert.Less(t, some.Displacement, none.Displacement)
	assert.Less(t, most.Displacement, some.Displacement)
	assert.Greater(t, most.PeakAccel, 1.2*none.PeakAccel)
	assert.Greater(t, most.BaseShear, some.BaseShear)
	d.Dampers = -0.1
	w.Isolated(st, sp, d, &fixed, &some)
	assert.Equal(t, NotApplicable, some.Status)
}

// Every design ends in a balance, in Stuck, or in SeveralRoots: none is capped,
// the gap changes sign at the root, and a scan of 500 steps a decade finds no
// larger root.
func TestSolveDisplacementAlwaysConverges(t *testing.T) {
	designs := 100_000
	if testing.Short() {
		designs = 10_000
	}
	r := rand.New(rand.NewPCG(1, 2))
	spectra := []*hazard.Spectrum{workedSpectrum(1), workedSpectrum(0.2), workedSpectrum(2.5),
		unevenSpectrum()}
	stuck, several, missed := 0, 0, 0
	for i := range designs {
		sp := spectra[i%len(spectra)]
		s := systemOf(0.005+0.25*r.Float64(), 1+7*r.Float64(),
			math.Exp(math.Log(1e-4)+r.Float64()*math.Log(500)))
		if i%7 == 0 {
			s.Dy = 0
		}
		if i%5 == 0 {
			s.C = 0.5 * r.Float64() * math.Sqrt(s.Mass*s.Kd)
		}
		e := SolveDisplacement(s, sp, hazard.ReductionIsolation, Start{})
		if e.Status&Capped != 0 {
			t.Fatalf("%+v: capped", s)
		}
		if e.Status&SeveralRoots != 0 {
			several++
		}
		q := balance{s, sp, hazard.ReductionIsolation}
		above, below := e.Displacement*(1+rootTolerance), e.Displacement*(1-rootTolerance)
		switch {
		case e.Status&Stuck != 0:
			stuck++
		case (q.asked(above) > above) == (q.asked(below) > below):
			t.Fatalf("%+v: no balance at %g", s, e.Displacement)
		}
		if i%100 == 0 && hasLargerRoot(&q, e.Displacement) {
			missed++
		}
	}
	assert.Greater(t, stuck, 0, "the designs reach the stuck state")
	assert.Greater(t, several, 0, "the designs reach several roots")
	assert.Zero(t, missed, "larger roots missed")
	t.Logf("%d designs, %d stuck, %d with several roots", designs, stuck, several)
}

// hasLargerRoot reports whether a scan of 500 steps a decade finds a displacement above d at
// which the demand exceeds the displacement.
func hasLargerRoot(q *balance, d float64) bool {
	for x := d * 1.0001; x < 100*d; x *= 1.0046 {
		if x < q.asked(x) {
			return true
		}
	}
	return false
}

// SolveDisplacement assumes that B rises with damping, and no faster than damping. This holds
// for every reduction. The largest damping of a bilinear loop is 2/pi; dampers add to that.
func TestReductionsRiseNoFasterThanDamping(t *testing.T) {
	for _, name := range hazard.ReductionNames() {
		b, err := hazard.ReductionNamed(name)
		require.NoError(t, err)
		for x := leastIsolatorDamping; x < 0.899; x += 0.001 {
			assert.GreaterOrEqual(t, b(x+0.001), b(x), "%s at %g", name, x)
			assert.LessOrEqual(t, b(x+0.001)/b(x), (x+0.001)/x, "%s at %g", name, x)
		}
	}
}

// unevenSpectrum returns a spectrum with two humps, as soft ground over rock can
// give.
func unevenSpectrum() *hazard.Spectrum {
	sa := []float64{0.8, 1.0, 0.5, 0.2, 0.45, 0.2, 0.05}
	for i, v := range sa {
		sa[i] = math.Log(v)
	}
	sp := &hazard.Spectrum{}
	sp.Set(hazard.NewAxis([]float64{0.1, 0.3, 0.6, 1.2, 2, 3, 6}), 0.4, sa)
	return sp
}
