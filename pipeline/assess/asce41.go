package assess

import (
	"math"

	"plinth/hazard"
	"plinth/retrofit/consequence"
	"plinth/retrofit/demand"
	"plinth/retrofit/rating"
)

// asce41LevelNames are the seismic hazard levels of ASCE 41-17 2.4.1, as plans write them.
var asce41LevelNames = [...]string{"BSE-1E", "BSE-2E", "BSE-1N", "BSE-2N"}

// An ASCE41Level is a seismic hazard level of ASCE 41 at the site.
type ASCE41Level struct {
	Name string
	Sa   float64 // g, of its spectrum at the period of the building as it stands
}

// ASCE41Levels returns the seismic hazard levels of ASCE 41-17 2.4.1 at the site, from its own
// return periods (hazard.Site.ASCE41). It is an error if these make no hazard curve.
func (a *Assessment) ASCE41Levels() (list [len(asce41LevelNames)]ASCE41Level, err error) {
	levels, _, err := a.Site.ASCE41(a.Building.Vs30)
	if err != nil {
		return list, err
	}
	var sp hazard.Spectrum
	for i, pair := range [...]hazard.SpectralPair{levels.BSE1E, levels.BSE2E, levels.BSE1N, levels.BSE2N} {
		if err := hazard.TwoPeriod(&sp, pair.SXS, pair.SX1, a.study.plan.Hazard.TL); err != nil {
			return list, err
		}
		list[i] = ASCE41Level{asce41LevelNames[i], sp.Sa(a.Archetype.Period)}
	}
	return list, nil
}

// rateASCE41 returns the rating by ASCE 41 at the level that the plan names, or at its design return
// period. Demand over capacity at a named level is read between those of the site by a power law of
// Sa at the period of the building as it stands; outside them there is no rating.
func (a *Assessment) rateASCE41(levels []demand.Response, e *consequence.Exposure) rating.Rating {
	var ratios [consequence.NumLimitStates]float64
	name := a.study.plan.Rating.ASCE41Level
	if name == "" {
		for i := range ratios {
			ratios[i] = overCapacity(&levels[a.study.design], e, consequence.LimitState(i)) / a.knowledge()
		}
		return rating.LimitState(ratios)
	}
	sa := math.NaN()
	list, err := a.ASCE41Levels()
	for _, l := range list {
		if err == nil && l.Name == name {
			sa = l.Sa
		}
	}
	return a.AtSa(sa, levels, e)
}

// AtSa returns the rating by ASCE 41 at a spectral acceleration in g at the period of the building
// as it stands.
func (a *Assessment) AtSa(sa float64, levels []demand.Response, e *consequence.Exposure) rating.Rating {
	var ratios [consequence.NumLimitStates]float64
	a.readShaking(a.Archetype.Period)
	for i := range ratios {
		a.readRatios(levels, e, consequence.LimitState(i), a.knowledge())
		ratios[i] = rating.At(sa, a.shaking, a.ratios)
	}
	return rating.LimitState(ratios)
}
