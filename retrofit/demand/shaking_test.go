package demand

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
)

// Longer shaking makes devices and isolators worth more, and a pulse less: displacement falls with
// duration and is larger in a pulse of half the period of the isolators. The building as it stands
// with 5 % of damping does not know.
func TestWhatShakingMakesOfDampingReachesEveryDevice(t *testing.T) {
	var w Work
	at := func(s hazard.Shaking) (asIs, damped, isolated float64) {
		st := plainStick(t, 5, 0.4)
		sp := workedSpectrum(1)
		sp.Shaking = s
		var stand, out Response
		w.AsIs(st, sp, &stand)
		w.Viscous(st, sp, Viscous{Alpha: 1, Damping: 0.2}, &out)
		damped = out.Roof
		w.Isolated(st, sp, Isolation{Kind: LeadRubber, Qd: 0.05 * 1.2e6 * hazard.Gravity, K1: 7.6e7, K2: 7.6e6,
			BaseMass: 2e5, Reduction: hazard.ReductionIsolation}, &stand, &out)
		return stand.Roof, damped, out.Displacement
	}
	stand, damped, isolated := at(hazard.Shaking{})
	require.Positive(t, isolated)
	lastDamped, lastIsolated := damped*10, isolated*10
	for _, d := range []float64{4, 8, hazard.CodeDuration, 30, 60} {
		a, b, c := at(hazard.Shaking{Duration: d})
		assert.InEpsilon(t, stand, a, 1e-12)
		assert.Less(t, b, lastDamped, "%g s", d)
		assert.Less(t, c, lastIsolated, "%g s", d)
		lastDamped, lastIsolated = b, c
		if d == hazard.CodeDuration {
			assert.InEpsilon(t, damped, b, 1e-6, "codes' own duration")
			assert.InEpsilon(t, isolated, c, 1e-4)
		}
	}
	_, _, pulsed := at(hazard.Shaking{PulsePeriod: 1, PulseChance: 1})
	assert.Greater(t, pulsed, 1.03*isolated)
}
