package demand

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"plinth/archetypes"
	"plinth/hazard"
)

// workedSpectrum returns the spectrum of the worked cases: EN 1998-1 type 1,
// ground B, ag 0.30 g, with nodes up to the 4 s the standard covers. The cases
// use g = 9.81 m/s2; scale carries that through the conversion.
func workedSpectrum(scale float64) *hazard.Spectrum {
	const pga, plateau = 0.36, 0.90
	sa := []float64{plateau, plateau, plateau * 0.5 / 2, plateau * 0.5 * 2 / 16}
	ln := make([]float64, len(sa))
	for i, v := range sa {
		ln[i] = math.Log(v)
	}
	sp := &hazard.Spectrum{}
	sp.Set(hazard.NewAxis([]float64{0.15, 0.5, 2, 4}), pga, ln)
	sp.TB, sp.TC = 0.15, 0.5
	sp.Scale(scale * 9.81 / hazard.Gravity)
	return sp
}

// stickOf returns a stick of storeys 3 m high with its modes.
func stickOf(t testing.TB, mass, stiffness, strength []float64, r, degrading float64) *archetypes.Stick {
	t.Helper()
	st := &archetypes.Stick{
		Mass: mass, Stiffness: stiffness, Strength: strength, Height: make([]float64, len(mass)),
		PostYield: r, Degrading: degrading,
	}
	for i := range st.Height {
		st.Height[i] = 3
	}
	chainModes(t, st)
	return st
}

// chainModes fills the modes of st, by the symmetric eigenvalue solution of gonum.
func chainModes(t testing.TB, st *archetypes.Stick) {
	t.Helper()
	modes, err := archetypes.ChainModes(st.Mass, st.Stiffness)
	require.NoError(t, err)
	st.Modes = modes
}

// oneStorey and threeStoreys are buildings A and B of the worked cases.
func oneStorey(t testing.TB) *archetypes.Stick {
	return stickOf(t, []float64{1}, []float64{400}, []float64{3}, 0.03, 1)
}

func threeStoreys(t testing.TB) *archetypes.Stick {
	return stickOf(t, []float64{1, 1, 1}, []float64{1200, 1000, 700}, []float64{6, 5, 3.2}, 0.03, 1)
}

// plainStick returns n storeys of 3 m with stiffness and strength falling with
// height, first period 0.12 s a storey and a yield base shear of c weights.
func plainStick(t testing.TB, n int, c float64) *archetypes.Stick {
	t.Helper()
	mass, k, v := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		x := float64(i) / float64(n)
		mass[i], k[i] = 2e5, 1-0.6*x*x
		v[i] = c * 2e5 * float64(n) * hazard.Gravity * (1 - 0.7*x*x)
	}
	st := stickOf(t, mass, k, v, 0.03, 1)
	scale := st.Modes.Period[0] / (0.12 * float64(n))
	for i := range k {
		k[i] *= scale * scale
	}
	chainModes(t, st)
	return st
}
