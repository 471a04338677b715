package assess

import (
	"math"

	"plinth/archetypes"
	"plinth/pipeline/inventory"
	"plinth/retrofit"
	"plinth/retrofit/consequence"
)

// dampingShare is the slope of ln Sa over ln damping near 5 %, 1/(5.6 - ln 5) by B of ASCE 41-17
// 2.4.1.7.1.
const dampingShare = 0.25

// exposure returns what the building has to lose with the measure called slug. Unknown
// properties of the building and its ground widen the spread of demand.
func (a *Assessment) exposure(slug string) consequence.Exposure {
	study, b, arch := a.study, a.Building, &a.Archetype
	limits := &arch.Limits
	e := consequence.Exposure{
		Value:          b.Value,
		OccupantsDay:   b.OccupantsDay,
		OccupantsNight: b.OccupantsNight,
		Light:          arch.Light,
		DowntimeValue: b.Value * study.plan.Consequence.DowntimeShare *
			study.model.Worth(b.Use.Split()).Downtime / 365,
		Contents: b.Contents,
		Limits: [consequence.NumLimitStates]float64{limits.ImmediateOccupancy, limits.LifeSafety,
			limits.CollapsePrevention},
		Collapse:    limits.Collapse,
		Irreparable: math.Inf(1),
		Infilled:    arch.Infilled,
		Volume:      arch.CollapseVolume,
		Fatality:    arch.CollapseFatality,
	}
	if arch.Flexible { // walls and light frames pinch back to plumb
		e.Irreparable = study.model.Irreparable(yieldDrift(&a.Stick))
	}
	if arch.FallsOutward {
		e.Frontage = frontage(b)
	}
	e.Split, _ = study.model.Split(b.Use.String())
	kind, _ := retrofit.KindOf(slug)
	band := kind.BandOf(study.plan.Measures.Options, arch.Storeys) // which the model has: Open saw to it
	budget := a.budget()
	e.Spread, _ = study.model.Spread(band, budget)
	if !a.perturbation.drawn { // displacement scatters with the ground, not with the building
		e.Spread.Displacement = math.Hypot(e.Spread.Displacement, a.Ground.Spread)
	}
	return e
}

// budget returns what is not known of the building, every part once. A draw has the parts that
// it samples in its medians.
//
//	knowledge = sqrt(period^2 + ((steepness - 1) strength)^2 + (steepness ground)^2 +
//	            (0.25 damping)^2 + imputed^2)
//
// Drift grows with shaking to the power of the steepness and falls with strength to that less 1.
func (a *Assessment) budget() consequence.Budget {
	arch := &a.Archetype
	s := steepness(arch.Period)
	known := min(arch.Basis[archetypes.PeriodValue].Origin, arch.Basis[archetypes.StrengthValue].Origin) ==
		archetypes.Given
	if a.perturbation.drawn {
		return consequence.Budget{Steepness: s, Known: known}
	}
	knowledge := consequence.Dispersion(arch.PeriodBeta, (s-1)*arch.StrengthBeta, s*a.Ground.Spread,
		dampingShare*arch.DampingBeta, imputedSpread(a.Building))
	return consequence.Budget{Capacity: arch.LimitsBeta, Steepness: s, Known: known, Knowledge: knowledge}
}

// steepness returns the growth of ln drift with ln shaking at a period in s, at a strength ratio
// of 4, the middle of the range in which demand was measured:
//
//	d ln(R C1)/d ln R = 1 + R/(a T^2 + R - 1),  C1 = 1 + (R - 1)/(a T^2),  a = 60, R = 4
//
// C1 is equation 7-22 of ASCE 41-17 with a of site classes D to F, from memory. It goes to 1, equal
// displacement, for long periods, and to 2.33 for short ones. One value serves all levels and all
// strengths of a building, so that its dispersion does not depend on them.
func steepness(period float64) float64 {
	const a, ratio = 60, 4
	return 1 + ratio/(a*period*period+ratio-1)
}

// yieldDrift returns the least drift ratio at which a storey yields.
func yieldDrift(s *archetypes.Stick) float64 {
	least := math.Inf(1)
	for i, v := range s.Strength {
		least = min(least, v/(s.Stiffness[i]*s.Height[i]))
	}
	return least
}

// frontage returns the length in m of the walls along one street: the longer side, or that of a
// square of one floor. It is 0 where the size is not known.
func frontage(b *inventory.Building) float64 {
	floor := b.Footprint
	if math.IsNaN(floor) {
		floor = b.FloorArea / float64(b.Storeys)
	}
	for _, side := range []float64{max(b.Length, b.Width), math.Sqrt(floor)} {
		if side > 0 { // false for NaN
			return side
		}
	}
	return 0
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
