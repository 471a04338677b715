package assess

import (
	"fmt"
	"strconv"

	"plinth/hazard"
	"plinth/pipeline/output"
	"plinth/retrofit/consequence"
)

// Where an engineer should look now, whatever the rank.
const (
	// Annual probability of death of the person who is most inside. 1 in 10,000 is the most that is
	// tolerable for members of the public (Health and Safety Executive, Reducing risks, protecting
	// people, 2001, paragraph 132; from memory). It does not depend on the size of the stock.
	tolerableRisk = 1e-4
	// Annual frequency of one event that kills manyDead or more: 1 in 5,000 is the most that is
	// tolerable (the same, paragraph 136; from memory).
	tolerableEvent, manyDead = 1. / 5000, 50
)

// Share of the year that the person who is most inside spends there: one who lives there, of time
// at home (Klepeis and others 2001: 0.687, of a survey of the United States), or one who works there,
// 2000 hours (a full working year: common practice, no source). People live, or are tended, where a
// quarter as many are inside by night as by day (judgement).
const livesThere, worksThere, byNight = 0.687, 2000. / 8760, 0.25

// mostInside returns the share of the year that the person who is most inside spends there. Where
// people are not known somebody lives there.
func (a *Assessment) mostInside() float64 {
	if b := a.Building; b.OccupantsNight < byNight*b.OccupantsDay {
		return worksThere
	}
	return livesThere
}

// manyDie returns the annual frequency of a collapse at an hour when so many are inside that it
// kills manyDead or more in the mean.
//
//	frequency = collapses a year x share of hours with people >= manyDead/(volume lost x fatality)
func (a *Assessment) manyDie() float64 {
	e := &a.Exposure
	return a.Before.Collapse * a.study.model.Crowded(e.OccupantsDay, e.OccupantsNight,
		manyDead/(e.Volume*e.Fatality))
}

// LookNow returns the sentence for a building beyond what is tolerable as it stands, "" for others.
// Where annual values are not known it goes by the drift at the design return period.
func (a *Assessment) LookNow() string {
	risk, does := a.mostInside()*a.Before.DeathRisk, "lives"
	if a.mostInside() == worksThere {
		does = "works"
	}
	once := func(frequency float64) string {
		return strconv.FormatFloat(output.Round(1/frequency, 2), 'f', -1, 64)
	}
	far := ""
	if a.Site.Status&hazard.FarBeyond != 0 {
		far = ", by shaking far outside the return periods of the hazard"
	}
	switch {
	case !a.SlopeKnown():
		if a.AsIs[a.study.design].DriftRatio <= a.Exposure.Limits[consequence.CollapsePrevention] {
			return ""
		}
		return fmt.Sprintf("have an engineer look now: beyond collapse prevention in the shaking of %g years; "+
			"how often is not known from one return period", a.study.plan.Hazard.Design)
	case risk > tolerableRisk:
		return "have an engineer look now: whoever " + does + " here dies of it about once in " + once(risk) +
			" years, oftener than once in 10,000 (the tolerable limit of HSE 2001)" + far
	case a.manyDie() > tolerableEvent:
		return "have an engineer look now: its collapse kills " + strconv.Itoa(manyDead) +
			" or more about once in " + once(a.manyDie()) +
			" years, oftener than once in 5,000 (the tolerable limit of HSE 2001)" + far
	}
	return ""
}
