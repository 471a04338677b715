package history

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard/motion"
	"plinth/retrofit/demand"
)

// exact returns the displacement of an elastic oscillator at each sample by the
// recurrence of Nigam and Jennings 1969 (Chopra, Dynamics of Structures, Table
// 5.2.1), which is exact for a record straight between samples.
func exact(r *motion.Record, period, damping float64) []float64 {
	o := motion.NewOscillator(period, damping, r.Step)
	u, v := 0.0, 0.0
	out := []float64{0}
	for i := 1; i < len(r.Accel); i++ {
		s := r.Scale * gravity
		u, v = o.Step(u, v, s*r.Accel[i-1], s*r.Accel[i])
		out = append(out, u)
	}
	return out
}

// errorOf returns the rms difference of the roof from exact over the rms of exact,
// at parts steps a sample.
func errorOf(m *Model, r *motion.Record, want []float64, parts int) float64 {
	var w Work
	var res Result
	s := &Series{}
	w.once(m, r, parts, &res, s)
	var off, size float64
	for i, u := range want {
		d := s.Roof[i] - u
		off += d * d
		size += u * u
	}
	return math.Sqrt(off / size)
}

// TestElasticOscillator checks both integrators against the exact solution, to 0.1 %
// at 1/200 of the period (their period error is (pi/200)^2/6 to /3 a cycle), and that
// their error falls fourfold with half the step: second order.
func TestElasticOscillator(t *testing.T) {
	r := shaking(0.005, 0.3)
	for _, c := range []struct {
		name   string
		device Device
		own, z float64
	}{
		{"central difference", nil, 0, 0.05},
		{"average acceleration", demand.Viscous{Alpha: 1, Damping: 0}, 0, 0.05},
		{"average acceleration with dampers", demand.Viscous{Alpha: 1, Damping: 0.25}, 0, 0.30},
		{"a building that damps less", nil, 0.025, 0.025},
	} {
		st := oneStorey(t, 1, 1e6, 0.03, 0)
		st.Damping = c.own
		m, err := New(st, c.device, Options{})
		require.NoError(t, err)
		want := exact(r, 1, c.z)
		one, two, four := errorOf(m, r, want, 1), errorOf(m, r, want, 2), errorOf(m, r, want, 4)
		assert.Less(t, one, 1e-3, c.name)
		order := math.Log2(one / two)
		assert.InDelta(t, 2, order, 0.1, "%s: errors %.3g %.3g %.3g", c.name, one, two, four)
		assert.InDelta(t, 2, math.Log2(two/four), 0.1, c.name)
	}
}

// TestStepIsStable checks the critical step of the explicit integrator: free vibration
// at the share that is used dies away whatever the damping, up to three times critical,
// and grows just above the limit, where z = -1 solves the recurrence.
//
//	u'' = 2 u' - u - h2 u' - 2 z h (3/2 (u' - u) - 1/2 (u - u-))
func TestStepIsStable(t *testing.T) {
	last := func(z, h float64) float64 {
		older, u, next := 1.0, 1.0, 1.0
		for range 5000 {
			older, u, next = u, next, 2*next-u-h*h*next-2*z*h*(1.5*(next-u)-0.5*(u-older))
			if math.Abs(next) > 1e6 {
				break
			}
		}
		return math.Abs(next)
	}
	for z := 0.0; z <= 3; z += 0.05 {
		h := math.Sqrt(16*z*z+4) - 4*z
		assert.LessOrEqual(t, last(z, stability*h), 2.0, "damping %g", z)
		assert.Greater(t, last(z, 1.01*h), 1e3, "damping %g", z)
	}
}
