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
	before := a.rate(s, a.AsIs, &a.Exposure, 1)
	o := a.Best()
	if o == nil {
		return rating.Pair{Before: before, After: before}
	}
	factor := o.StrengthFactor
	if factor == 0 {
		factor = math.NaN() // the index has no term for isolators and dampers
	}
	after := a.rate(s, o.Levels, &o.Exposure, factor)
	if s == rating.DM58 {
		after = rating.Improved(before, after)
	}
	return rating.Pair{Before: before, After: after}
}

// rate returns the rating of one state of the building; strength is a factor on the strength
// as it stands.
func (a *Assessment) rate(s rating.Scale, levels []demand.Response, e *consequence.Exposure,
	strength float64) rating.Rating {
	switch s {
	case rating.ASCE41:
		return a.rateASCE41(levels, e)
	case rating.NZSPercent: // its capacities are probable ones
		a.readShaking(a.Archetype.Period)
		required := rating.At(rating.NewBuildingReturnPeriod, a.Site.ReturnPeriod, a.shaking)
		return rating.NewBuilding(required / a.reaching(levels, e, consequence.LifeSafety, 1, a.shaking))
	case rating.DM58:
		years, known := a.Site.ReturnPeriod, a.knowledge()
		a.readShaking(0)
		required := rating.At(rating.LifeSafetyReturnPeriod, years, a.shaking)
		pam := rating.PAM(1/a.reaching(levels, e, consequence.ImmediateOccupancy, known, years),
			1/a.reaching(levels, e, consequence.LifeSafety, known, years))
		return rating.RiskClass(pam, 100*a.reaching(levels, e, consequence.LifeSafety, known, a.shaking)/required)
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

// reaching returns what of the scale, one value a level, the building reaches limit state s in, with
// its capacity multiplied by knowledge.
func (a *Assessment) reaching(levels []demand.Response, e *consequence.Exposure, s consequence.LimitState,
	knowledge float64, scale []float64) float64 {
	a.readRatios(levels, e, s, knowledge)
	return rating.Reaching(a.ratios, scale)
}

// readRatios fills demand over capacity at limit state s of each level, with the capacity multiplied
// by knowledge.
func (a *Assessment) readRatios(levels []demand.Response, e *consequence.Exposure, s consequence.LimitState,
	knowledge float64) {
	a.ratios = a.ratios[:0]
	for i := range levels {
		a.ratios = append(a.ratios, overCapacity(&levels[i], e, s)/knowledge)
	}
}

// readShaking fills the spectral acceleration of each level at a period in s, the peak of the ground
// at 0.
func (a *Assessment) readShaking(period float64) {
	a.shaking = a.shaking[:0]
	for i := range a.Site.Spectra {
		a.shaking = append(a.shaking, a.Site.Spectra[i].Sa(period))
	}
}

// seismicIndex returns the factors of the Japanese index. Systems that are not concrete have no
// strength in it, and so no rating.
func (a *Assessment) seismicIndex(strength float64) rating.Index {
	t := &a.study.plan.Rating
	x := rating.Index{Ductility: rating.Ductile, Irregularity: t.JapanIrregularity, Time: t.JapanTime,
		Zone: t.JapanZone}
	if a.Archetype.BrittleColumns {
		x.Ductility = rating.ShortColumns
	}
	if strings.HasPrefix(a.Archetype.System.String(), "concrete-") {
		x.Strength = strength * a.Archetype.StrengthRatio
	}
	return x
}

// Scales returns the published scales the plan asks for.
func (study *Study) Scales() []rating.Scale { return study.scales }
