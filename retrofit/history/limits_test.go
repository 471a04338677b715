package history

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard/motion"
	"plinth/retrofit/demand"
)

// run returns the result of one record on a stick with a device.
func run(t *testing.T, m *Model, r *motion.Record) *Result {
	t.Helper()
	var w Work
	var out Result
	w.Run(m, r, &out)
	return &out
}

// TestPDeltaBringsDown checks that a weak storey without hardening stands without the weight
// above and collapses with it, that the collapse is counted, and that it ends the run.
func TestPDeltaBringsDown(t *testing.T) {
	r := shaking(0.005, 0.3)
	st := oneStorey(t, 1.5, 0.04, 0, 0)
	stands, err := New(st, nil, Options{Collapse: 0.25})
	require.NoError(t, err)
	falls, err := New(st, nil, Options{PDelta: true, Collapse: 0.25})
	require.NoError(t, err)
	assert.Zero(t, run(t, stands, r).Status)
	out := run(t, falls, r)
	assert.NotZero(t, out.Status&Collapsed)
	assert.Contains(t, out.Status.Words(), "collapsed")

	s := &motion.Suite{Records: []motion.Record{*r, r.Times(0.05), r.Times(1.5)}}
	var w Work
	var stat Statistics
	w.Suite(falls, s, &stat)
	assert.Equal(t, 3, stat.Runs)
	assert.Equal(t, 2, stat.Collapsed)
	assert.True(t, math.IsInf(stat.Roof.Median, 1), "two of three are endless")
	w.Suite(falls, &motion.Suite{Records: s.Records[1:2]}, &stat)
	assert.Zero(t, stat.Collapsed)
	assert.Positive(t, stat.Roof.Median)
}

// TestPDeltaLengthensThePeriod checks the elastic period with the weight above against
// the closed form T/sqrt(1 - W/(k h)).
func TestPDeltaLengthensThePeriod(t *testing.T) {
	st := oneStorey(t, 2, 1e6, 0, 0)
	m, err := New(st, nil, Options{PDelta: true, Collapse: 10})
	require.NoError(t, err)
	r := shaking(0.005, 0.1)
	theta := st.Mass[0] * gravity / (st.Stiffness[0] * st.Height[0])
	w1 := math.Pi // rad/s, of 2 s
	// damping is set by the period without weight: c = 2 b w m
	w2 := w1 * math.Sqrt(1-theta)
	want := exact(r, 2*math.Pi/w2, 0.05*w1/w2)
	s := &Series{}
	var w Work
	w.once(m, r, 2, &Result{}, s)
	assert.InEpsilon(t, largest(want), largest(s.Roof[:len(want)]), 1e-3)
}

// TestNoDeviceIsAsIs checks that devices of no size change nothing.
func TestNoDeviceIsAsIs(t *testing.T) {
	r := shaking(0.005, 0.4)
	st := frameOf(t, 3, 0.5, 0.15, 1)
	plain, err := New(st, nil, Options{})
	require.NoError(t, err)
	want := run(t, plain, r)
	for _, d := range []Device{
		demand.Yielding{Stiffness: make([]float64, 3), Force: make([]float64, 3)},
		demand.TunedMass{},
		demand.Strengthening{Stiffness: st.Stiffness, Strength: st.Strength},
		demand.Viscous{Alpha: 1},
	} {
		m, err := New(st, d, Options{})
		require.NoError(t, err)
		got := run(t, m, r)
		assert.InEpsilon(t, want.DriftRatio, got.DriftRatio, 5e-3,
			"%T: another integrator may differ a little", d)
		assert.InEpsilon(t, want.PeakAccel, got.PeakAccel, 2e-2, "%T", d)
	}
}

// TestIsolatorsThatHoldAreFixedBase checks that isolators too strong to move leave the
// fixed-base building, but for damping: 2 % on stiffness here, Rayleigh 5 % there.
func TestIsolatorsThatHoldAreFixedBase(t *testing.T) {
	r := shaking(0.005, 0.2)
	st := frameOf(t, 3, 0.5, 100, 0)
	fixed, err := New(st, nil, Options{})
	require.NoError(t, err)
	m, err := New(st, demand.Isolation{Qd: 1e12, K1: 1e12, K2: 1e6, BaseMass: 2e5}, Options{})
	require.NoError(t, err)
	for i := range fixed.links { // the damping of the other
		fixed.links[i].massDamping, fixed.links[i].tangent, fixed.links[i].dashpot = 0, 0,
			m.links[i+1].dashpot
	}
	want, got := run(t, fixed, r), run(t, m, r)
	assert.InEpsilon(t, want.DriftRatio, got.DriftRatio, 0.01)
	assert.InEpsilon(t, want.Roof, got.Roof, 0.01)
	assert.Less(t, got.Displacement, 1e-4)
}

// TestFrictionOnVelocity checks that sliders with less friction at low speed move more
// and that a rate of none is constant friction.
func TestFrictionOnVelocity(t *testing.T) {
	r := shaking(0.005, 0.4)
	st := frameOf(t, 3, 0.5, 10, 0)
	slider := devicesOf(st)["slider"]
	displacement := func(o Options) float64 {
		m, err := New(st, slider, o)
		require.NoError(t, err)
		out := run(t, m, r)
		assert.Zero(t, out.Status)
		return out.Displacement
	}
	constant := displacement(Options{})
	assert.Equal(t, constant, displacement(Options{Friction: Rate{Slow: 0.5}}))
	assert.Greater(t, displacement(Options{Friction: Rate{Slow: 0.5, Per: 20}}), constant)
	assert.InEpsilon(t, constant, displacement(Options{Friction: Rate{Slow: 1, Per: 20}}), 1e-9)
}

// TestTunedMassActs checks that a mass tuned to an elastic building lowers its roof
// displacement, travels farther than the roof, and takes energy.
func TestTunedMassActs(t *testing.T) {
	r := shaking(0.005, 0.2)
	st := frameOf(t, 5, 0.8, 100, 0)
	plain, err := New(st, nil, Options{})
	require.NoError(t, err)
	m, err := New(st, demand.TunedMass{Mass: 1e5}, Options{})
	require.NoError(t, err)
	asIs, with := run(t, plain, r), run(t, m, r)
	assert.Less(t, with.Roof, asIs.Roof)
	assert.Greater(t, with.Stroke, with.Roof)
	assert.Positive(t, with.Energy.Dampers)
}

// TestBadDevicesAreErrors checks that an invalid device gives an error value.
func TestBadDevicesAreErrors(t *testing.T) {
	st := frameOf(t, 2, 0.3, 0.2, 0)
	nan := math.NaN()
	for _, d := range []Device{
		demand.Viscous{Alpha: 0, Damping: 0.1}, demand.Viscous{Alpha: 0.5, Damping: 0.1},
		demand.Viscous{Alpha: 1, Damping: nan},
		demand.Yielding{Stiffness: []float64{1, nan}, Force: []float64{1, 1}},
		demand.TunedMass{Mass: -1},
		demand.Isolation{Qd: 1, K1: 1, K2: 2, BaseMass: 1},
		demand.Strengthening{Stiffness: []float64{1, -1}, Strength: []float64{1, 1}},
	} {
		_, err := New(st, d, Options{})
		assert.ErrorIs(t, err, ErrDevice, "%#v", d)
	}
	_, err := New(st, nil, Options{Collapse: -1})
	assert.ErrorIs(t, err, ErrDevice)
	st.Mass[1] = nan
	_, err = New(st, nil, Options{})
	assert.ErrorIs(t, err, ErrDevice)
}

// TestSpreadOf checks median, dispersion and collapse by hand.
func TestSpreadOf(t *testing.T) {
	s := spreadOf([]float64{4, 1, 2}, 0)
	assert.InDelta(t, 2, s.Median, 1e-12, "geometric mean of 1, 2, 4")
	assert.InDelta(t, math.Ln2, s.Dispersion, 1e-12)
	assert.InDelta(t, math.Ln2/math.Sqrt(3), s.Error, 1e-12)
	assert.Equal(t, 4.0, s.Largest)
	assert.Equal(t, 4.0, spreadOf([]float64{4, 1, 2}, 2).Median, "third of five")
	assert.True(t, math.IsInf(spreadOf([]float64{4}, 2).Median, 1))
	assert.Equal(t, 1.0, spreadOf([]float64{0, 2}, 0).Median, "a zero has no logarithm")
	assert.True(t, math.IsNaN(spreadOf(nil, 0).Median))
}

// TestTunedMassFollowsTuning checks that the mass is tuned for the given excitation, as in the
// spectral demand: its spring is that of this tuning and of no other.
func TestTunedMassFollowsTuning(t *testing.T) {
	st := frameOf(t, 5, 0.8, 100, 0)
	mu := 1e5 / st.ModalMass()
	for _, e := range []demand.Excitation{demand.Earthquake, demand.NoiseBase, demand.HarmonicBase,
		demand.NoiseForce, demand.HarmonicForce} {
		m, err := New(st, demand.TunedMass{Mass: 1e5, For: e}, Options{})
		require.NoError(t, err)
		w := 2 * math.Pi / st.Modes.Period[0] * demand.TuneFor(e, mu, st.Modes.Gamma[0], 0.05).Frequency
		assert.InEpsilon(t, 1e5*w*w, m.links[len(m.links)-1].main.k, 1e-12)
	}
}
