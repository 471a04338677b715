package demand

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plinth/hazard"
)

// The first guess of a search changes its cost, not its result: from its own balance again and
// again, as levels with one spectrum begin, and from anywhere else.
func TestAnyStartFindsTheSameBalance(t *testing.T) {
	spectra := []*hazard.Spectrum{workedSpectrum(1), workedSpectrum(0.2), workedSpectrum(2.5),
		unevenSpectrum(), {}}
	odd := []float64{0, -1, 1e-300, 1e-12, 1e12, math.Inf(1), math.Inf(-1), math.NaN()}
	rapid.Check(t, func(rt *rapid.T) {
		sp := rapid.SampledFrom(spectra).Draw(rt, "spectrum")
		qd := math.Pow(10, rapid.Float64Range(-4, -0.3).Draw(rt, "ln strength"))
		dy := math.Pow(10, rapid.Float64Range(-6, -1).Draw(rt, "ln yield displacement"))
		s := systemOf(qd, rapid.Float64Range(0.3, 15).Draw(rt, "period"), dy)
		s.C = rapid.SampledFrom([]float64{0, 0.1, 0.5}).Draw(rt, "dampers") * math.Sqrt(s.Mass*s.Kd)
		e := SolveDisplacement(s, sp, hazard.ReductionIsolation, Start{})
		near := e.Start()
		for i := range 6 {
			requireSameBalance(rt, &e, SolveDisplacement(s, sp, hazard.ReductionIsolation, near),
				"from its own balance, time %d", i)
			again := SolveDisplacement(s, sp, hazard.ReductionIsolation, near)
			near = again.Start()
		}
		near.Displacement *= 1 + rapid.SampledFrom([]float64{-1e-9, -1e-15, 1e-16, 3e-16, 1e-12,
			1e-6}).Draw(rt, "off")
		requireSameBalance(rt, &e, SolveDisplacement(s, sp, hazard.ReductionIsolation, near),
			"from beside its balance")
		near = Start{rapid.SampledFrom(odd).Draw(rt, "start"),
			rapid.SampledFrom(append(odd, 1-1e-16, 0.999)).Draw(rt, "gain")}
		requireSameBalance(rt, &e, SolveDisplacement(s, sp, hazard.ReductionIsolation, near), "from %+v",
			near)
	})
}

// requireSameBalance checks that two searches found the same balance, and that it is a number.
func requireSameBalance(t require.TestingT, want *Equilibrium, got Equilibrium, what string, args ...any) {
	args = append([]any{what}, args...)
	require.Equal(t, want.Status, got.Status, args...)
	require.Zero(t, got.Status&Capped, args...)
	require.Equal(t, want.Roots, got.Roots, args...)
	require.True(t, got.Displacement >= 0 && got.Displacement <= math.MaxFloat64, args...)
	require.False(t, math.IsNaN(got.Gain) || math.IsInf(got.Gain, 0), args...)
	require.InDelta(t, want.Displacement, got.Displacement, 5*rootTolerance*want.Displacement, args...)
}

// A search that begins at its balance evaluates twice and ends: it does not use the slope of
// two points that are equal to rounding.
func TestSearchFromItsBalanceEndsAtOnce(t *testing.T) {
	sp := velocitySpectrum(0.6)
	looks := 0
	counted := func(b float64) float64 { looks++; return hazard.ReductionIsolation(b) }
	for _, period := range []float64{2, 2.5, 3, 3.5, 4} {
		for _, qd := range []float64{0.02, 0.04, 0.06, 0.08, 0.1, 0.12} {
			s := systemOf(qd, period, 0.01)
			e := SolveDisplacement(s, sp, hazard.ReductionIsolation, Start{})
			require.Equal(t, 1, e.Roots)
			for range 5 {
				looks = 0
				e = SolveDisplacement(s, sp, counted, e.Start())
				require.LessOrEqual(t, looks, 3, "%g s, %g: two looks and the reduction to report", period,
					qd)
			}
		}
	}
}
