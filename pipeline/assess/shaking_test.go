package assess_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"plinth/hazard"
	"plinth/pipeline/internal/trial"
)

// What a plan and a register say of the shaking: the plan comes before the fault, the fault counts
// from 250 years on, and without either nothing is known.
func TestWhereTheShakingComesFrom(t *testing.T) {
	const class = "site_class = \"C\"\n"
	levels := func(table, cells string) (years []float64, out []hazard.Shaking) {
		a := assessed(t, trial.OnRock+class+table, cells)
		for i := range a.Site.Spectra {
			out = append(out, a.Site.Spectra[i].Shaking)
		}
		return a.Site.ReturnPeriod, out
	}
	_, none := levels("", ",,")
	for _, s := range none {
		assert.False(t, s.Known())
	}
	years, fault := levels("fault_magnitude = 6.8\n", ",,4")
	for i, s := range fault {
		if years[i] < 250 {
			assert.False(t, s.Known(), "%g years", years[i])
			continue
		}
		assert.InEpsilon(t, hazard.SignificantDuration(6.8, 4, hazard.TypicalVs30('C')), s.Duration, 1e-9)
		assert.InEpsilon(t, hazard.PulsePeriodOf(6.8), s.PulsePeriod, 1e-9)
		assert.InEpsilon(t, hazard.PulseChance(6.8, 4), s.PulseChance, 1e-9)
	}
	_, stated := levels("magnitude = [6]\nsource_distance_km = [60]\n", ",300,4")
	for _, s := range stated {
		assert.InEpsilon(t, hazard.SignificantDuration(6, 60, 300), s.Duration, 1e-9, "velocity of the register")
		assert.Zero(t, s.PulseChance)
	}
	_, both := levels("significant_duration_s = [40]\npulse_period_s = [2]\n", ",,4")
	for _, s := range both {
		assert.Equal(t, 40.0, s.Duration)
		assert.Equal(t, 2.0, s.PulsePeriod)
		assert.Equal(t, 1.0, s.PulseChance, "a stated pulse is certain")
	}
}

// Long shaking makes dampers and isolators worth more: less drift with less damping. A near fault makes
// them worth less: the target asks for more damping. The building as it stands hardly knows.
func TestShakingReachesTheMeasures(t *testing.T) {
	drift := func(table, cells string) (stand, damped, damping float64) {
		a := assessed(t, trial.OnRock+"site_class = \"C\"\n"+table, cells)
		for i := range a.Options {
			if o := &a.Options[i]; o.Measure.Slug() == "viscous" {
				damped, damping = o.Levels[a.Case.Design].DriftRatio, o.Levels[a.Case.Design].Damping
			}
		}
		return a.AsIs[a.Case.Design].DriftRatio, damped, damping
	}
	stand, usual, damping := drift("", ",,")
	same, long, less := drift("significant_duration_s = [60]\n", ",,")
	_, _, more := drift("", ",,2")
	assert.InEpsilon(t, stand, same, 0.02)
	assert.Positive(t, usual)
	assert.Less(t, long, usual)
	assert.LessOrEqual(t, less, damping)
	assert.Greater(t, more, damping)
}
