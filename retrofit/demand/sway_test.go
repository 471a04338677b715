package demand

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/archetypes"
)

// Numbers of the sweep: hazard in steps of 4 % from 0.3 to 3 times.
const (
	sweepFrom, sweepTo, sweepStep = 0.3, 3.0, 1.04

	// steepest is the largest slope of the logarithm of a drift over that of the hazard where it does
	// not come from the roof. 12.5 (1 - 1/rho)2 has 3; more where the weight takes the last hardening
	// away and drift gathers in one storey.
	steepest = 7
)

// TestSweep checks over systems, years, heights and hazard that demand on a building as it stands
// rises with shaking without cliffs, that no shear is above the resistance of its storey, and that
// drift ends where it counts as collapse.
func TestSweep(t *testing.T) {
	tables := archetypes.Default()
	storeys := []int{1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30}
	if testing.Short() {
		storeys = []int{1, 2, 4, 8, 15, 30}
	}
	for _, system := range archetypes.Systems() {
		for _, year := range []int{1930, 1968, 1985, 2005} {
			for _, n := range storeys {
				for _, profile := range []archetypes.Profile{archetypes.Regular, archetypes.WeakGround,
					archetypes.SetBack} {
					d := archetypes.Unknown()
					d.System, d.Year, d.Storeys, d.Profile = system, year, n, profile
					var a archetypes.Archetype
					require.NoError(t, tables.Assign(&d, &a))
					var st archetypes.Stick
					a.Build(&st)
					checkSways(t, &st, a.System.String())
				}
			}
		}
	}
}

// checkSways checks one building.
func checkSways(t *testing.T, st *archetypes.Stick, name string) {
	var w Work
	var out, last Response
	n := st.N()
	var higher []float64
	limit := CollapseRatio(st)
	for scale := sweepFrom; scale < sweepTo; scale *= sweepStep {
		w.AsIs(st, workedSpectrum(scale), &out)
		tr := &w.Trace
		where := func(what string) string { return what + " of " + name }
		require.LessOrEqual(t, out.DriftRatio, limit*(1+1e-9), where("drift"))
		fallen := out.Status&CollapseCounted != 0
		require.Equal(t, fallen, out.DriftRatio > limit*(1-1e-9), where("collapse"))
		require.True(t, fallen || tr.StrengthRatio <= tr.Most, where("strength ratio"))
		if h := st.Hardened; h > 0 {
			require.LessOrEqual(t, out.BaseShear, h*st.Strength[0]*(1+1e-9), where("base shear"))
			require.LessOrEqual(t, out.Accel[n-1]*st.Mass[n-1], fitted.RoofPush*h*st.Strength[n-1]*(1+1e-9),
				where("force on the roof"))
		}
		if scale > sweepFrom {
			// As the weight takes the hardening away, drift leaves one storey for another.
			require.GreaterOrEqual(t, out.DriftRatio, last.DriftRatio*0.99, where("drift falls"))
			require.GreaterOrEqual(t, out.BaseShear, last.BaseShear*0.99, where("base shear falls"))
			if !fallen && tr.StrengthRatio <= domainRatio {
				noCliff(t, st, tr, &last, &out, higher, where)
			}
			require.False(t, !fallen && last.Status&CollapseCounted != 0, where("collapse ends"))
		}
		last.CopyFrom(&out)
		higher = append(higher[:0], tr.Higher...)
	}
}

// noCliff checks that no storey drifts further in a step than the roof, since all that is plastic may
// gather in it, or by more than the steepest slope, and its higher modes besides.
func noCliff(t *testing.T, st *archetypes.Stick, tr *Trace, last, out *Response, higher []float64,
	where func(string) string) {
	most := math.Pow(sweepStep, steepest) - 1
	for i := range out.Drift {
		allowed := max(out.Roof-last.Roof, last.Drift[i]*most) + higher[i]*most
		require.LessOrEqual(t, out.Drift[i]-last.Drift[i], allowed+1e-12, "%s, storey %d of %d, strength ratio %g",
			where("a cliff in the drift"), i+1, st.N(), tr.StrengthRatio)
	}
}
