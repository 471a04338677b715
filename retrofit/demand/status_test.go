package demand

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plinth/archetypes"
	"plinth/hazard"
)

func TestWhatCannotBeCalculatedIsNotANumber(t *testing.T) {
	sp := workedSpectrum(1)
	var w Work
	var fixed, out Response
	st := threeStoreys(t)
	w.AsIs(st, sp, &fixed)
	good := Isolation{Qd: 2, K1: 200, K2: 20, BaseMass: 1, Reduction: hazard.ReductionIsolation}
	isolated := func(change func(*Isolation)) func() {
		d := good
		change(&d)
		return func() { w.Isolated(st, sp, d, &fixed, &out) }
	}
	nan, inf := math.NaN(), math.Inf(1)
	for name, call := range map[string]func(){
		"negative damping": func() { w.Viscous(st, sp, Viscous{Alpha: 1, Damping: -0.1}, &out) },
		"infinite damping": func() { w.Viscous(st, sp, Viscous{Alpha: 1, Damping: inf}, &out) },
		"no exponent":      func() { w.Viscous(st, sp, Viscous{Damping: 0.1, ReferenceRoof: 1}, &out) },
		"no reference":     func() { w.Viscous(st, sp, Viscous{Alpha: 0.5, Damping: 0.1}, &out) },
		"unknown device": func() {
			w.Yielding(st, sp,
				Yielding{Stiffness: []float64{1, 1, nan}, Force: []float64{1, 1, 1}}, &out)
		},
		"negative device": func() {
			w.Yielding(st, sp,
				Yielding{Stiffness: []float64{1, 1, 1}, Force: []float64{1, -1, 1}}, &out)
		},
		"negative mass": func() { w.TunedMass(st, sp, TunedMass{Mass: -1}, &out) },
		"no stiffness": func() {
			w.Strengthened(st, sp, Strengthening{Stiffness: make([]float64, 3), Strength: st.Strength}, &out)
		},
		"no post-yield":       isolated(func(d *Isolation) { d.K2 = 0 }),
		"softer before yield": isolated(func(d *Isolation) { d.K1 = 19 }),
		"no strength":         isolated(func(d *Isolation) { d.Qd = 0 }),
		"unknown base":        isolated(func(d *Isolation) { d.BaseMass = nan }),
		"storey without mass": func() {
			w.AsIs(broken(t, func(s *archetypes.Stick) { s.Mass[1] = 0 }), sp,
				&out)
		},
		"storey height NaN": func() {
			w.AsIs(broken(t, func(s *archetypes.Stick) { s.Height[0] = nan }),
				sp, &out)
		},
		"infinite strength": func() {
			w.AsIs(broken(t, func(s *archetypes.Stick) { s.Strength[2] = inf }),
				sp, &out)
		},
		"hardening above 1": func() {
			w.AsIs(broken(t, func(s *archetypes.Stick) { s.PostYield = 1.5 }),
				sp, &out)
		},
		"spectrum of unknowns": func() { w.AsIs(st, workedSpectrum(nan), &out) },
	} {
		out = Response{Status: Stuck}
		call()
		require.Equal(t, NotApplicable, out.Status, name)
		require.Len(t, out.Drift, 3, name)
		require.Len(t, out.Accel, 3, name)
		for _, x := range values(&out) {
			require.True(t, math.IsNaN(x), name)
		}
	}
}

func broken(t *testing.T, change func(*archetypes.Stick)) *archetypes.Stick {
	st := threeStoreys(t)
	change(st)
	return st
}

func TestProgrammerErrorsPanic(t *testing.T) {
	var w Work
	var out Response
	st, sp := threeStoreys(t), workedSpectrum(1)
	assert.Panics(t, func() { w.AsIs(&archetypes.Stick{}, sp, &out) })
	assert.Panics(t, func() { w.Yielding(st, sp, Yielding{}, &out) })
	assert.Panics(t, func() { w.Strengthened(st, sp, Strengthening{}, &out) })
	assert.Panics(t, func() {
		w.Isolated(st, sp, Isolation{Reduction: hazard.ReductionIsolation}, &out,
			&out)
	})
	assert.Panics(t, func() { w.Isolated(st, sp, Isolation{}, &Response{}, &out) })
}

func TestStatuses(t *testing.T) {
	var w Work
	var fixed, out Response
	st, sp := threeStoreys(t), workedSpectrum(1)
	w.AsIs(st, workedSpectrum(3), &out)
	assert.Equal(t, OutOfDomain, out.Status, "strength ratio %g", out.Ductility)

	soft := stickOf(t, st.Mass, scaled(st.Stiffness, 0.01), st.Strength, 0.03, 1) // 4.4 s
	w.AsIs(soft, sp, &out)
	assert.Equal(t, Extrapolated, out.Status)

	w.Viscous(st, sp, Viscous{Alpha: 0.15, Damping: 0.1, ReferenceRoof: 0.05}, &out)
	assert.Equal(t, OutOfDomain, out.Status, "exponent below the range")

	w.AsIs(st, sp, &fixed)
	d := Isolation{Kind: LeadRubber, Qd: 0.2, K1: 4000, K2: 400, BaseMass: 1,
		Reduction: hazard.ReductionIsolation}
	w.Isolated(st, sp, d, &fixed, &out)
	assert.NotZero(t, out.Status&OutOfDomain, "effective period %g s", out.Period)

	var none hazard.Spectrum // no shaking: nothing happens, and nothing was read
	w.AsIs(st, &none, &out)
	assert.Equal(t, Extrapolated, out.Status)
	assert.Zero(t, out.Roof+out.DriftRatio+out.PeakAccel+out.BaseShear)
	w.Viscous(st, &none, Viscous{Alpha: 0.5, Damping: 0.1, ReferenceRoof: 0.05}, &out)
	assert.Equal(t, Extrapolated, out.Status)
	assert.Zero(t, out.Roof+out.DriftRatio+out.PeakAccel+out.BaseShear)
}

// The modes of a strengthened stick against the symmetric eigenvalue solution of
// gonum (mat.EigenSym, inside archetypes.ChainModes). Periods are good to 1e-7, shapes to the square root of
// the tolerance on periods, widened where two modes lie close.
func TestStrengthenedModes(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		st := drawStick(t, rt, 30)
		n := st.N()
		d := Strengthening{Stiffness: make([]float64, n), Strength: st.Strength}
		for i := range n {
			d.Stiffness[i] = st.Stiffness[i] * rapid.Float64Range(1, 5).Draw(rt, "factor")
		}
		var w Work
		var out Response
		w.Strengthened(st, workedSpectrum(1), d, &out)
		require.Zero(rt, out.Status&Capped)
		want := stickOf(t, st.Mass, d.Stiffness, st.Strength, 0, 0)
		for j := range want.Modes.Count {
			m := &w.Trace.Modes[j]
			require.InEpsilon(rt, want.Modes.Period[j], m.Period, 1e-6, "mode %d", j)
			require.InDelta(rt, want.Modes.Gamma[j], m.Gamma, 0.01*max(1, math.Abs(want.Modes.Gamma[j])),
				"mode %d", j)
		}
	})
}

// Strengthening by one factor shortens every period by the root of the factor on
// stiffness, here 1.5^0.7, and raises acceleration.
func TestStrengtheningByOneFactor(t *testing.T) {
	var w Work
	var asIs, out Response
	st, sp := threeStoreys(t), workedSpectrum(1)
	w.AsIs(st, sp, &asIs)
	var d Strengthening
	d.Scale(st, 1.5)
	w.Strengthened(st, sp, d, &out)
	assert.InEpsilon(t, asIs.Period/math.Sqrt(math.Pow(1.5, 0.7)), out.Period, 1e-12)
	assert.Less(t, out.DriftRatio, asIs.DriftRatio)
	assert.Greater(t, out.PeakAccel, asIs.PeakAccel)
	assert.Greater(t, out.BaseShear, asIs.BaseShear)
}

// A call does not depend on earlier calls of the same Work.
func TestCallsDoNotSeeEachOther(t *testing.T) {
	sp := workedSpectrum(1)
	small, tall := plainStick(t, 2, 0.2), plainStick(t, 15, 0.1)
	var w Work
	for _, st := range []*archetypes.Stick{tall, small, tall} {
		for _, c := range measureCases(st) {
			var fresh Work
			var fixed, want, got Response
			fresh.AsIs(st, sp, &fixed)
			c.call(&fresh, st, sp, &fixed, &want)
			c.call(&w, st, sp, &fixed, &got)
			require.Equal(t, want, got, c.name)
		}
	}
}
