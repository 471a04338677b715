package assess

import (
	"math"
	"strings"

	"plinth/archetypes"
	"plinth/retrofit/consequence"
	"plinth/retrofit/demand"
	"plinth/retrofit/rating"
)

// Rate returns the building on a published scale as it stands and with its best
// measure; the same twice where doing nothing is best.
func (a *Assessment) Rate(s rating.Scale) rating.Pair {
	before := a.rate(s, a.AsIs, &a.Exposure, &a.Before, 1)
	o := a.Best()
	if o == nil {
		return rating.Pair{Before: before, After: before}
	}
	factor := o.StrengthFactor
	if factor == 0 {
		factor = math.NaN() // the index has no term for isolators and dampers
	}
	after := a.rate(s, o.Levels, &o.Exposure, &o.After, factor)
	if s == rating.DM58 {
		after = rating.Improved(before, after)
	}
	return rating.Pair{Before: before, After: after}
}

// rate returns the rating of one state of the building; strength is a factor on the strength
// as it stands.
func (a *Assessment) rate(s rating.Scale, levels []demand.Response, e *consequence.Exposure,
	annual *consequence.Annual, strength float64) rating.Rating {
	switch s {
	case rating.ASCE41:
		var ratios [consequence.NumLimitStates]float64
		for i := range ratios {
			ratios[i] = overCapacity(&levels[a.study.design], e, consequence.LimitState(i)) / a.knowledge()
		}
		return rating.LimitState(ratios)
	case rating.NZSPercent:
		a.readRatios(levels, e, 1) // its capacities are probable ones
		return rating.NewBuilding(rating.At(rating.NewBuildingReturnPeriod, a.Site.ReturnPeriod, a.ratios))
	case rating.DM58:
		a.readRatios(levels, e, a.knowledge())
		required := rating.At(rating.LifeSafetyReturnPeriod, a.Site.ReturnPeriod, a.shaking)
		repair := annual.Structure + annual.DriftFitOut + annual.AccelFitOut
		return rating.RiskClass(100*repair/e.Value, 100*rating.Reaching(a.ratios, a.shaking)/required)
	default:
		return rating.SeismicIndex(a.seismicIndex(strength))
	}
}

// overCapacity returns demand over capacity at a limit state: of storey drift, and, for life
// safety, of isolators where these are nearer their end.
func overCapacity(p *demand.Response, e *consequence.Exposure, s consequence.LimitState) float64 {
	ratio := p.DriftRatio / e.Limits[s]
	if s == consequence.LifeSafety && p.Displacement > 0 && e.Displacement > 0 {
		ratio = max(ratio, p.Displacement/e.Displacement)
	}
	return ratio
}

// knowledge returns the knowledge factor of the building, by which a rating divides its capacity
// (ASCE 41-17 6.2.4, whose inverse is the confidence factor of NTC 2018 C8.5.4, from memory): 1
// where a report gives the strength. Demand and losses are expected values and know none.
func (a *Assessment) knowledge() float64 {
	if a.Archetype.Basis[archetypes.StrengthValue].Origin == archetypes.Given {
		return 1
	}
	return a.study.plan.Rating.KnowledgeFactor
}

// readRatios fills the demand over capacity for life safety, with the capacity multiplied by
// knowledge, and the peak ground acceleration of each level.
func (a *Assessment) readRatios(levels []demand.Response, e *consequence.Exposure, knowledge float64) {
	a.ratios, a.shaking = a.ratios[:0], a.shaking[:0]
	for i := range levels {
		a.ratios = append(a.ratios, overCapacity(&levels[i], e, consequence.LifeSafety)/knowledge)
		a.shaking = append(a.shaking, a.Site.Spectra[i].PGA)
	}
}

// seismicIndex returns the factors of the Japanese index. Systems that are neither concrete
// nor steel have no strength in it, and so no rating.
func (a *Assessment) seismicIndex(strength float64) rating.Index {
	t := &a.study.plan.Rating
	x := rating.Index{Ductility: rating.Ductile, Irregularity: t.JapanIrregularity, Time: t.JapanTime,
		Zone: t.JapanZone}
	if a.Archetype.BrittleColumns {
		x.Ductility = rating.ShortColumns
	}
	if name := a.Archetype.System.String(); strings.HasPrefix(name, "concrete-") ||
		strings.HasPrefix(name, "steel-") {
		x.Strength = strength * a.Archetype.StrengthRatio
	}
	return x
}

// Scales returns the published scales the plan asks for.
func (study *Study) Scales() []rating.Scale { return study.scales }
