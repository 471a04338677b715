package history

import (
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/hazard/motion"
)

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
	modes, err := archetypes.ChainModes(st.Mass, st.Stiffness)
	require.NoError(t, err)
	st.Modes = modes
	return st
}

// oneStorey returns a mass of 1000 kg of a period in s that yields at strength
// times its weight.
func oneStorey(t testing.TB, period, strength, r, degrading float64) *archetypes.Stick {
	w := 2 * math.Pi / period
	return stickOf(t, []float64{1000}, []float64{1000 * w * w}, []float64{1000 * gravity * strength}, r,
		degrading)
}

// frameOf returns n storeys of a first period in s with stiffness and strength
// falling with height, and a yield base shear of c weights.
func frameOf(t testing.TB, n int, period, c, degrading float64) *archetypes.Stick {
	t.Helper()
	mass, k, v := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		x := float64(i) / float64(n)
		mass[i], k[i] = 2e5, 1-0.6*x*x
		v[i] = c * 2e5 * float64(n) * gravity * (1 - 0.7*x*x)
	}
	st := stickOf(t, mass, k, v, 0.03, degrading)
	scale := st.Modes.Period[0] / period
	for i := range k {
		k[i] *= scale * scale
	}
	return stickOf(t, mass, k, v, 0.03, degrading)
}

// shaking returns seeded noise under an envelope, at a step in s, with a peak near
// pga in g: a record to calculate with, of no site.
func shaking(step, pga float64) *motion.Record {
	rng := rand.New(rand.NewPCG(7, 7))
	r := &motion.Record{Step: step, Scale: 1}
	smooth := 0.0
	for i := range int(10 / step) {
		x := float64(i) * step
		smooth += step / 0.05 * (rng.NormFloat64()/math.Sqrt(step/0.05) - smooth)
		r.Accel = append(r.Accel, x*math.Exp(1-x/2)/2*smooth)
	}
	r.Accel[0] = 0
	r.Scale = pga / r.PGA()
	return r
}

// spectrumOf returns the EN 1998-1 type 1 spectrum of a ground type at ag in g.
func spectrumOf(t testing.TB, class hazard.SiteClass, ag float64) *hazard.Spectrum {
	t.Helper()
	var sp hazard.Spectrum
	require.NoError(t, hazard.Eurocode8Type1.Elastic(&sp, class, ag))
	return &sp
}

// elCentro returns the 1940 El Centro north-south record as tabulated in Chopra,
// Dynamics of Structures, Appendix 6, from the folder of check data.
func elCentro(t testing.TB) *motion.Record {
	t.Helper()
	dir := os.Getenv("PLINTH_SHARED")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared")
	}
	path := filepath.Join(dir, "data", "records", "el-centro-1940-ns.csv")
	f, err := os.Open(path)
	if err != nil {
		t.Skipf("no El Centro record at %s: set PLINTH_SHARED to the folder of check data to run this", path)
	}
	defer f.Close()
	r, err := motion.ReadRecord(f, "el-centro-1940-ns.csv")
	require.NoError(t, err)
	return r
}
