package history

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard/motion"
)

// TestSeriesIsTheRun checks that recording changes nothing; that the peaks are those of the
// run, which also looks between the samples of the record (within 3 %); and that the motion is
// in equilibrium: the inertia forces equal the force at the foot except for the frame's own
// damping (5 %: within a fifth of the largest).
func TestSeriesIsTheRun(t *testing.T) {
	r := shaking(0.005, 0.4)
	st := frameOf(t, 5, 0.6, 0.15, 1)
	for name, d := range devicesOf(st) {
		m, err := New(st, d, Options{})
		require.NoError(t, err)
		want := run(t, m, r)
		s := &Series{}
		w := Work{Series: s}
		var got Result
		w.Run(m, r, &got)
		require.Equal(t, *want, got, name)

		require.Len(t, s.Floors(), 5)
		assert.InEpsilon(t, got.Roof, largest(s.Roof), 0.03, name)
		for i, f := range s.Floors() {
			require.Len(t, f.Move, len(s.Time))
			assert.InEpsilon(t, got.Drift[i], largest(f.Drift), 0.03, name)
			assert.InEpsilon(t, got.Accel[i], largest(f.Accel), 0.03, name)
		}
		if b := s.Isolators(); b != nil {
			assert.InEpsilon(t, got.Displacement, largest(b.Drift), 0.03, name)
		} else {
			assert.Zero(t, got.Displacement, name)
		}
		if b := s.TunedMass(); b != nil {
			assert.InEpsilon(t, got.Stroke, largest(b.Drift), 0.03, name)
		} else {
			assert.Zero(t, got.Stroke, name)
		}
		foot, worst := 0.0, 0.0
		for j := range s.Time {
			sum := s.links[0].Spring[j] + s.links[0].Device[j]
			foot = max(foot, math.Abs(sum))
			for i := range s.links {
				sum += m.links[i].mass * s.links[i].Accel[j]
			}
			worst = max(worst, math.Abs(sum))
		}
		assert.Less(t, worst, 0.2*foot, name)
		assert.InEpsilon(t, got.BaseShear, foot, 0.03, name)
		assert.Zero(t, testing.AllocsPerRun(10, func() { w.Run(m, r, &got) }), "a recorder keeps its storage")
	}
}

// Two runs are equally far from their median; the first represents the suite, whatever the
// rounding of the logarithms.
func TestTypicalOfTwo(t *testing.T) {
	for i := range 1000 {
		a, b := 0.01+1e-5*float64(i), 0.03-1e-5*float64(i)/3
		assert.Zero(t, typical([]Result{{DriftRatio: a}, {DriftRatio: b}}, math.Sqrt(a*b)))
	}
}

// TestTypicalRecord checks that the run nearest the median represents the suite, and a collapse
// if most runs collapse.
func TestTypicalRecord(t *testing.T) {
	m, err := New(frameOf(t, 3, 0.5, 0.15, 1), nil, Options{})
	require.NoError(t, err)
	r := shaking(0.005, 0.3)
	suite := func(scales ...float64) *motion.Suite {
		s := &motion.Suite{}
		for _, x := range scales {
			s.Records = append(s.Records, r.Times(x))
		}
		return s
	}
	var w Work
	var out Statistics
	w.Suite(m, suite(0.2, 2, 1, 0.3, 3), &out)
	assert.Equal(t, 2, out.Typical)
	w.Suite(m, suite(0.2, 60, 50, 0.3, 70), &out)
	require.Equal(t, 3, out.Collapsed)
	assert.Equal(t, 1, out.Typical)
}
