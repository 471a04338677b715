package history

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/archetypes"
	"plinth/hazard/motion"
)

// TestTwoStoreyFrequencies checks Chopra, Dynamics of Structures, Example 10.4:
// masses 2 and 1, stiffnesses 2 and 1, frequencies sqrt(1/2) and sqrt(2).
func TestTwoStoreyFrequencies(t *testing.T) {
	modes, err := archetypes.ChainModes([]float64{2, 1}, []float64{2, 1})
	require.NoError(t, err)
	assert.InEpsilon(t, 0.70710678, 2*math.Pi/modes.Period[0], 1e-7)
	assert.InEpsilon(t, 1.41421356, 2*math.Pi/modes.Period[1], 1e-7)
}

// allModes returns the periods, participation factors and shapes of a chain, which
// archetypes keeps three of: those of the shear frame with equal masses and
// stiffnesses in closed form.
//
//	w_j = 2 sqrt(k/m) sin((2 j - 1) pi/(2 (2 N + 1))),  phi_ij ~ sin((2 j - 1) i pi/(2 N + 1))
//
// Textbook result, from memory; the first three are compared with archetypes.
func allModes(n int, k, m float64) (period, gamma []float64, shape [][]float64) {
	for j := 1; j <= n; j++ {
		a := float64(2*j-1) * math.Pi / float64(2*n+1)
		phi, l, mm := make([]float64, n), 0.0, 0.0
		for i := range phi {
			phi[i] = math.Sin(float64(i+1)*a) / math.Sin(float64(n)*a)
			l += phi[i]
			mm += phi[i] * phi[i]
		}
		period = append(period, math.Pi/(math.Sqrt(k/m)*math.Sin(a/2)))
		gamma, shape = append(gamma, l/mm), append(shape, phi)
	}
	return period, gamma, shape
}

// superpose returns base shear and roof displacement over time of n equal storeys by
// superposition of exact modal responses.
func superpose(r *motion.Record, n int, k, m float64, damping func(w float64) float64) (shear,
	roof []float64) {
	period, gamma, shape := allModes(n, k, m)
	shear, roof = make([]float64, len(r.Accel)), make([]float64, len(r.Accel))
	for j, t := range period {
		for i, u := range exact(r, t, damping(2*math.Pi/t)) {
			shear[i] += k * gamma[j] * shape[j][0] * u
			roof[i] += gamma[j] * u
		}
	}
	return shear, roof
}

func largest(x []float64) float64 {
	most := 0.0
	for _, v := range x {
		most = max(most, math.Abs(v))
	}
	return most
}

// TestFiveStoreysUnderElCentro checks a five-storey shear frame of Chopra, Dynamics of
// Structures, 13.8.2, in SI units (45 t, 5482 kN/m, 5 %): periods and modal masses to the
// digits printed, and the base shear combined from the peaks of the modes, 291 221.9 N by
// public computations on the same record.
func TestFiveStoreysUnderElCentro(t *testing.T) {
	r := elCentro(t).Times(9.81 / gravity)
	const n, m, k = 5, 45e3, 5482e3
	period, gamma, shape := allModes(n, k, m)
	modes, err := archetypes.ChainModes([]float64{m, m, m, m, m}, []float64{k, k, k, k, k})
	require.NoError(t, err)
	share := []float64{0.8795, 0.0872, 0.0242, 0.0075, 0.0016}
	squares := 0.0
	for j, want := range []float64{2.000, 0.6852, 0.4346, 0.3383, 0.2967} {
		assert.InDelta(t, want, period[j], 1e-4)
		mass := 0.0
		for _, phi := range shape[j] {
			mass += gamma[j] * phi / n
		}
		assert.InDelta(t, share[j], mass, 1e-4)
		if j < modes.Count {
			assert.InEpsilon(t, period[j], modes.Period[j], 1e-9)
			assert.InEpsilon(t, gamma[j], modes.Gamma[j], 1e-9)
		}
		u, _ := r.Peak(period[j], 0.05)
		w := 2 * math.Pi / period[j]
		v := mass * n * m * w * w * u
		squares += v * v
	}
	assert.InEpsilon(t, 291221.9, math.Sqrt(squares), 2e-3, "short modes are read at a finer step here")
}

// TestElasticFrame checks a frame of five storeys against superposition of exact modal
// responses with the Rayleigh damping of each mode, to 0.2 % of the peaks.
func TestElasticFrame(t *testing.T) {
	r := shaking(0.005, 0.3)
	const n, m, k = 5, 45e3, 50e6
	mass, stiffness, strength := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		mass[i], stiffness[i], strength[i] = m, k, 1e12
	}
	st := stickOf(t, mass, stiffness, strength, 0.03, 0)
	w1, w3 := 2*math.Pi/st.Modes.Period[0], 2*math.Pi/st.Modes.Period[2]
	shear, roof := superpose(r, n, k, m, func(w float64) float64 {
		return 0.05 * (w1*w3/w + w) / (w1 + w3)
	})
	model, err := New(st, nil, Options{})
	require.NoError(t, err)
	var w Work
	var out Result
	w.Run(model, r, &out)
	assert.InEpsilon(t, largest(shear), out.BaseShear, 2e-3)
	assert.InEpsilon(t, largest(roof), out.Roof, 2e-3)
	assert.Zero(t, out.Status)
}
