package demand

import (
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/archetypes"
	"plinth/hazard"
)

// The worked cases are prototype values, not published. One program printed them to six digits
// and another reproduced them, so the tolerance is half a unit of the sixth digit, 5e-6
// relative.
const printed = 5e-6

// earlier returns a Work with the constants of the worked cases. Since then the displacement
// ratio, the share of plastic drift, floor accelerations beyond yield and the rising branch of
// a damped spectrum have other forms; the cases do not check these.
func earlier() Work {
	f := Fitted()
	return Work{Fit: &f}
}

// same checks one value printed to six digits.
func same(t *testing.T, want, got float64, what string) {
	t.Helper()
	assert.InEpsilon(t, want, got, printed, what)
}

func sameAll(t *testing.T, want, got []float64, what string) {
	t.Helper()
	require.Len(t, got, len(want), what)
	for i := range want {
		same(t, want[i], got[i], what)
	}
}

// Prototype values, not published: case 1.
func TestWorkedOneStoreyAsIs(t *testing.T) {
	w := earlier()
	var out Response
	w.AsIs(oneStorey(t), workedSpectrum(1), &out)
	tr := &w.Trace
	assert.Zero(t, out.Status)
	same(t, 0.314159, tr.Modes[0].Period, "T1")
	same(t, 8.80817, tr.Modes[0].Sa, "Sa1")
	same(t, 0.0220204, tr.Modes[0].Sd, "Sd1")
	same(t, 0.340593, tr.YieldFraction, "s")
	same(t, 2.93606, tr.StrengthRatio, "mu")
	same(t, 2.93606, tr.Overload[0], "rho")
	same(t, out.Roof, out.Drift[0], "one storey is its roof")
}

// Prototype values, not published: case 2.
func TestWorkedThreeStoreysAsIs(t *testing.T) {
	w := earlier()
	var out Response
	w.AsIs(threeStoreys(t), workedSpectrum(1), &out)
	tr := &w.Trace
	assert.Zero(t, out.Status)
	for j, want := range [][5]float64{ // T, Gamma, roof minus ground floor ordinate, Sa, Sd
		{0.437577, 1.26892, 0.353821, 8.80817, 0.0427204},
		{0.172318, -0.32421, -1.03317, 8.80817, 0.00662499},
		{0.113505, 0.0552889, 3.90792, 7.53069, 0.00245757},
	} {
		m := &tr.Modes[j]
		same(t, want[0], m.Period, "T")
		same(t, want[1], m.Gamma, "Gamma")
		same(t, want[2], m.Shape[0], "phi")
		if m.Period >= 0.15 {
			same(t, want[3], m.Sa, "Sa")
			same(t, want[4], m.Sd, "Sd")
		}
	}
	sameAll(t, []float64{0.0191802, 0.0190616, 0.015967}, tr.First, "d")
	same(t, 0.260685, tr.YieldFraction, "s")
	same(t, 3.83604, tr.StrengthRatio, "mu")
	sameAll(t, []float64{3.86309, 3.8179, 3.60732}, tr.Overload, "rho")
	same(t, 1.26892*0.0427204*tr.C, out.Roof, "roof")
	same(t, 3.5316, tr.MissingMass/math.Pow(tr.StrengthRatio, w.fit.Missing), "Sm before yield")
}

// An elastic frame is the sum of its modes: case 2 twelve times as strong, whose roof is
// G1 Sd1, whose drifts and lowest accelerations are the roots of squares of what the case
// prints of its modes.
func TestWorkedThreeStoreysElastic(t *testing.T) {
	var w Work
	var out Response
	st := threeStoreys(t)
	st.Strength = scaled(st.Strength, 12)
	w.AsIs(st, workedSpectrum(1), &out)
	sameTo := func(want, got float64) {
		t.Helper()
		assert.InEpsilon(t, want, got, 1e-4, "of rounded numbers, on another rising branch")
	}
	sameTo(1.26892*0.0427204, out.Roof)
	d, dh := []float64{0.0191802, 0.0190616, 0.015967}, []float64{0.00228178, 0.00103081, 0.0041227}
	gamma, sa := []float64{1.26892, -0.32421, 0.0552889}, []float64{8.80817, 8.80817, 7.53069}
	shape := [][]float64{{0.353821, 0.705455, 1}, {-1.03317, -0.899338, 1}, {3.90792, -3.37755, 1}}
	for i := range 3 {
		sameTo(math.Hypot(d[i], dh[i]), out.Drift[i])
		sum := 0.0
		for j := range 3 {
			x := gamma[j] * shape[j][i] * sa[j]
			sum += x * x
		}
		sameTo(math.Sqrt(sum), out.Accel[i])
	}
	sameTo(1200*math.Hypot(d[0], dh[0]), out.BaseShear)
}

// The case of an independent calculation from docs/methods/demand.md: the lowest mode of two masses
// and the free modes of the whole chain by scipy.linalg.eigh, the balance by scipy.optimize.brentq.
type isolatedCase struct {
	st      *archetypes.Stick
	d       Isolation
	balance [8]float64   // D, Te, b, Ke, Vb, eps, s, Kc
	free    [][4]float64 // T, mu, E, K
	slow    []float64
	accel   []float64 // slab first
	shear   []float64
}

func TestWorkedIsolation(t *testing.T) {
	const tolerance = 2e-5 // of the balance, that of the search
	for _, c := range []isolatedCase{{
		st: threeStoreys(t),
		d: Isolation{Kind: LeadRubber, Qd: 2.3544, K1: 201.42, K2: 20.142, BaseMass: 1,
			Reduction: hazard.ReductionIsolation},
		balance: [8]float64{0.133879, 2.07668, 0.26026, 37.728, 5.05099, 0.0443985, 0.970096, 56.695},
		free: [][4]float64{{0.2656, 2.91742, 0.345905, 1.0226}, {0.147741, 3.87519, 0.0682662, 0.450827},
			{0.106589, 5.83955, 0.0183898, 0.224495}},
		slow:  []float64{1.22554992, 1.25111463, 1.2765213, 1.29780316},
		accel: []float64{1.71054782, 1.47507887, 1.47121825, 1.90171945},
		shear: []float64{3.97735522, 3.04467314, 1.90171945},
	}, {
		st: oneStorey(t),
		d: Isolation{Kind: Slider, Qd: 1.1772, K1: 1185.97298, K2: 8.77298, BaseMass: 1,
			Reduction: hazard.ReductionIsolation},
		balance: [8]float64{0.126469, 2.10159, 0.324074, 18.0812, 2.28671, 0.0223461, 0.988574, 75.2387},
		free:    [][4]float64{{0.21687, 1.82876, 0.503304, 1.2892}},
		slow:    []float64{1.13043477, 1.156273},
		accel:   []float64{1.78696118, 1.71006929},
		shear:   []float64{1.71006929},
	}} {
		var w Work
		var fixed, out Response
		sp := workedSpectrum(1)
		w.AsIs(c.st, sp, &fixed)
		w.Isolated(c.st, sp, c.d, &fixed, &out)
		tr := &w.Trace.Isolated
		e := &tr.Equilibrium
		assert.Zero(t, out.Status)
		for i, got := range []float64{out.Displacement, out.Period, out.Damping, e.Stiffness, out.BaseShear,
			e.Separation, e.Share, tr.Stiff} {
			assert.InEpsilon(t, c.balance[i], got, tolerance, "balance %d", i)
		}
		for j, want := range c.free {
			f := &tr.Free[j]
			for i, got := range []float64{f.Period, f.Mass, f.Elastic, f.Kick} {
				assert.InEpsilon(t, want[i], got, tolerance, "free mode %d, %d", j+1, i)
			}
		}
		for i, want := range c.slow {
			assert.InEpsilon(t, want, tr.Slow[i], tolerance)
		}
		for i, want := range c.accel {
			assert.InEpsilon(t, want, append([]float64{out.BaseAccel}, out.Accel...)[i], tolerance)
		}
		for i, want := range c.shear {
			assert.InEpsilon(t, want, tr.StoreyShear[i], tolerance)
			assert.InEpsilon(t, want/c.st.Stiffness[i], out.Drift[i], tolerance)
		}
	}
}

// A uniform free-free beam of many storeys: mode j has half the mass, the period Tf/(2 j) and the
// participation eps/(2 j2) (textbook; eps is that of soft isolators). The stick is shear storeys, and
// the slab half a floor, so that it is uniform.
func TestFreeModesOfAUniformBeam(t *testing.T) {
	const n = 40
	mass, k, v := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		mass[i], k[i], v[i] = 1, 1e4, 1e9
	}
	mass[n-1] = 0.5
	st := stickOf(t, mass, k, v, 0.03, 0)
	var w Work
	var fixed, out Response
	sp := workedSpectrum(1)
	w.AsIs(st, sp, &fixed)
	kd := 0.01 * n // soft
	w.Isolated(st, sp, Isolation{Kind: LeadRubber, Qd: 1e-6 * n, K1: kd * 1.001, K2: kd, BaseMass: 0.5,
		Reduction: hazard.ReductionIsolation}, &fixed, &out)
	tr := &w.Trace.Isolated
	eps := math.Pow(st.Modes.Period[0]/(2*math.Pi*math.Sqrt(tr.Mass/tr.Stiff)), 2)
	for j := range 2 {
		f, order := &tr.Free[j], float64(j+1)
		assert.InEpsilon(t, st.Modes.Period[0]/(2*order), f.Period, 0.02)
		assert.InEpsilon(t, tr.Mass/2, f.Mass, 0.06)
		omega := 2 * math.Pi / f.Period
		assert.InEpsilon(t, eps/(2*order*order), tr.Stiff/(f.Mass*omega*omega), 0.1)
	}
}

// One storey with nonlinear dampers of 15 % at its elastic displacement, worked with the formulas of
// Viscous and ratio by bisection in another language: the damping of Ramirez and others 2000,
// 0.15 (u/sqrt(muD)/u0)^(-1/2), at its own displacement.
func TestWorkedNonlinearViscous(t *testing.T) {
	var w Work
	var out Response
	w.Viscous(oneStorey(t), workedSpectrum(1), Viscous{Alpha: 0.5, Damping: 0.15, ReferenceRoof: 0.0220204},
		&out)
	assert.Zero(t, out.Status)
	for _, v := range []struct {
		what      string
		want, got float64
	}{
		{"added damping", 0.224872, out.Damping - archetypes.CodeDamping}, {"roof", 0.0128, out.Roof},
		{"strength ratio", 1.68213, out.Ductility},
		{"by hand", 0.15 * math.Sqrt(0.0220204/(0.0128/math.Sqrt(400*0.0128/3))),
			out.Damping - archetypes.CodeDamping},
	} {
		assert.InEpsilon(t, v.want, v.got, 3*pointTolerance, v.what)
	}
}

// One storey with a device as stiff as it and of 0.4 times its strength, worked with the formulas
// of Yielding in another language: the mean damping by adding up its integral in 200,000 parts, the
// displacement by halving the error.
func TestWorkedYielding(t *testing.T) {
	var w Work
	var out Response
	w.Yielding(oneStorey(t), workedSpectrum(1), Yielding{Stiffness: []float64{400}, Force: []float64{1.2}},
		&out)
	assert.Zero(t, out.Status)
	for _, v := range []struct {
		what      string
		want, got float64
	}{
		{"roof", 0.012528, out.Roof}, {"period", 0.265513, out.Period},
		{"added damping", 0.0720186, out.Damping - archetypes.CodeDamping},
		{"strength ratio", 1.62833, out.Ductility},
		{"displacement ratio", 1.02583, w.Trace.C},
		{"secant, by hand", 2 * math.Pi / math.Sqrt(400+1.2/0.0075), out.Period},
	} {
		assert.InEpsilon(t, v.want, v.got, 3*pointTolerance, v.what)
	}
	assert.InEpsilon(t, 3+1.2+0.03*400*(0.012528-0.0075), w.Trace.resistance(0, 0.012528), 3*pointTolerance,
		"frame and device apart")
}

// The force of a tuned mass is what moves it: m ws2 times its absolute travel, which follows from the
// two equations of motion of roof and mass in steady sway, here with complex numbers. On the storeys
// it is the static force less the part that the first mode has: nothing is left on one storey.
func TestWorkedTunedMass(t *testing.T) {
	var w Work
	var out Response
	st := threeStoreys(t)
	w.TunedMass(st, workedSpectrum(0.1), TunedMass{Mass: 0.15}, &out)
	tr := &w.Trace
	tm := &tr.TunedMass
	assert.Zero(t, out.Status)
	assert.InEpsilon(t, 0.0924297, tm.Ratio, 1e-5, "prototype value, not published")
	assert.Equal(t, 1.0, tm.Effect, "elastic")

	f, z := tm.Tuning.Frequency, tm.Tuning.Damping
	spring := complex(f*f, 2*z*f) // over m w2, at w
	travel := 1 / (spring - 1)    // of the mass relative to the roof, over u: (spring - 1) z = u
	force := 1 + travel           // over m w2 u
	assert.InEpsilon(t, real(force), real(spring*travel), 1e-12, "the same from spring and damper")
	omega := 2 * math.Pi / tr.Modes[0].Period
	assert.InEpsilon(t, cmplx.Abs(force)*0.15*omega*omega*tr.Roof, tm.Force, 1e-9)
	assert.InEpsilon(t, cmplx.Abs(travel)*tr.Roof, tm.Stroke, 1e-9)
	assert.InEpsilon(t, tm.Tuning.Stroke(tr.Roof), tm.Stroke, 1e-9, "elastic")
	left := 1 - 1/st.ModalMass() // of the roof storey: mass and ordinate 1
	assert.InEpsilon(t, left*imag(-force)*0.15*omega*omega*tr.Roof/700, tr.Pull[2], 1e-9)

	w.TunedMass(oneStorey(t), workedSpectrum(0.1), TunedMass{Mass: 0.05}, &out)
	assert.InDelta(t, 0, w.Trace.Pull[0], 1e-15)
	assert.Equal(t, w.Trace.Roof, out.Drift[0])
}
