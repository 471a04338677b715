package assess

import (
	"math"

	"plinth/pipeline/inventory"
	"plinth/retrofit"
	"plinth/retrofit/consequence"
)

// strengthShare is how much of the dispersion of strength reaches drift: drift
// of a yielding frame follows displacement more than strength (judgement).
const strengthShare = 0.5

// exposure returns what the building has to lose with the measure called slug. Unknown
// properties of the building and its ground widen the spread of demand.
func (a *Assessment) exposure(slug string) consequence.Exposure {
	study, b, arch := a.study, a.Building, &a.Archetype
	e := consequence.Exposure{
		Value:          b.Value,
		OccupantsDay:   b.OccupantsDay,
		OccupantsNight: b.OccupantsNight,
		Light:          arch.Light,
		DowntimeValue:  b.Value * study.plan.Consequence.DowntimeShare / 365,
		Contents:       b.Contents,
		Limits: [consequence.NumLimitStates]float64{arch.Limits.ImmediateOccupancy,
			arch.Limits.LifeSafety, arch.Limits.CollapsePrevention},
	}
	e.Split, _ = study.model.Split(b.Use.String())
	kind, _ := retrofit.KindOf(slug)
	band := kind.BandOf(study.plan.Measures.Options, arch.Storeys) // which the model has: Open saw to it
	if a.perturbation.drawn {
		e.Spread, _ = study.model.SpreadKnown(band)
		return e
	}
	knowledge := math.Hypot(math.Hypot(arch.PeriodBeta, strengthShare*arch.StrengthBeta), a.Ground.Spread)
	knowledge = math.Hypot(knowledge, imputedSpread(b))
	e.Spread, _ = study.model.Spread(band, knowledge)
	// Displacement scatters with the ground, not with the unknowns of the building.
	e.Spread.Displacement = math.Hypot(e.Spread.Displacement, a.Ground.Spread)
	return e
}

// imputed is the ln-dispersion of demand that an assumed field adds: drift goes
// with period and strength, which go with the field (judgement; a year or a site
// class that is not known is in the archetype's and the ground's own dispersion).
var imputed = [inventory.NumFields]float64{
	inventory.System:  0.30, // another system of the same height and age
	inventory.Storeys: 0.20, // a storey more or less of five
	inventory.Height:  0.10, // a storey height 15 % off
	inventory.Year:    0.15, // the code before or after
}

// imputedSpread returns the ln-dispersion of demand from fields of b that were
// assumed, by root-sum-square.
func imputedSpread(b *inventory.Building) float64 {
	var sum float64
	for f, sd := range imputed {
		if sd > 0 && b.Origin[f] == inventory.Assumed {
			sum += sd * sd
		}
	}
	return math.Sqrt(sum)
}
