package screen

import (
	"math"
	"strings"

	"plinth/hazard"
	"plinth/pipeline/assess"
	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
	"plinth/retrofit"
	"plinth/retrofit/demand"
)

// fillBuilding fills the row of the building that a holds, without its ranks. They are filled
// when all buildings are known.
func (w *rowWriter) fillBuilding(a *assess.Assessment) {
	row, b := &w.building, a.Building
	output.Buildings.Blank(row)
	row.ID, row.Name, row.Lon, row.Lat = b.ID, b.Name, b.Lon, b.Lat
	row.Area = w.area(b)
	row.System, row.Use, row.DataGrade = b.System.String(), b.Use.String(), b.Grade.String()
	row.Storeys, row.Height, row.FloorArea = int64(b.Storeys), a.Archetype.Height, b.FloorArea
	if b.Year > 0 {
		row.Year = int64(b.Year)
	}
	row.SiteClass, row.SiteClassOrigin = a.SiteClass().String(), a.Ground.Origin
	if a.Ground.Period > 0 {
		row.SitePeriod, row.Resonant = a.Ground.Period, a.Resonant(a.Archetype.Period)
	}
	row.NearFault, row.VerticalAccel = a.NearFault(), a.Ground.Vertical
	row.Occupants = a.Study().Model().MeanOccupants(b.OccupantsDay, b.OccupantsNight)
	row.ReplacementValue, row.Currency = b.Value, a.Study().Plan().Measures.Currency
	row.Period, row.StrengthRatio = a.Archetype.Period, a.Archetype.StrengthRatio
	row.DesignReturnPeriod = a.Study().Plan().Hazard.Design
	row.DesignSa = a.Site.Spectra[a.Study().Design()].Sa(a.Archetype.Period)
	row.DesignPGA = a.Site.Spectra[a.Study().Design()].PGA
	for k, objective := range ranking.Objectives() {
		_, row.Scores[k] = a.BestBy(objective)
	}
	now := &a.AsIs[a.Study().Design()]
	row.Drift, row.FloorAccel, row.BaseShear = 100*now.DriftRatio, now.PeakAccel/hazard.Gravity,
		now.BaseShear/a.Archetype.Weight
	items := retrofit.ContentsResponse(&a.Case, a.AsIs, a.Study().Plan().Consequence.FreeStanding)
	row.EquipmentAccel, row.CabinetAccel, row.FragileAccel = itemAccelerations(&items)
	row.ObjectsMoveAt, row.ObjectsFirst = items.MovesAt, items.First.String()
	row.ImmediateOccupancy, row.LifeSafety, row.CollapsePrevention = a.Before.LimitState[0],
		a.Before.LimitState[1], a.Before.LimitState[2]
	row.Replaced, row.Collapse = a.Before.Replaced, a.Before.Collapse
	row.AnnualLoss, row.AnnualFatalities, row.StreetFatalities = a.Before.Total, a.Before.Dead, a.Before.Street
	row.AnnualLossLow = a.Study().Plan().Consequence.ValueLow * row.AnnualLoss
	row.AnnualLossHigh = a.Study().Plan().Consequence.ValueHigh * row.AnnualLoss
	row.FrequentShare, row.RareShare = a.Before.FrequentShare, a.Before.RareShare
	for i := range row.FatalitiesBy {
		row.FatalitiesBy[i] = fatalities(a, i)
	}
	row.IndividualRisk = a.Before.DeathRisk
	row.LookNow, row.TargetMissed = a.LookNow(), a.Shortfall()
	row.HazardStatus = strings.Join(a.Site.Status.Words(), "; ")
	row.SolverStatus = solverStatus(a.AsIs, a.Study())
	row.AssumedFields = w.text.assumed(b)
	row.WhyNot = w.text.whyNot(a)
	for _, s := range a.Study().Scales() {
		row.Ratings[s] = a.Rate(s)
	}
	w.fillBest(a)
}

// fatalities returns the expected deaths a year if every earthquake struck in one part of the
// week; NaN if nobody is ever inside.
func fatalities(a *assess.Assessment, period int) float64 {
	b, m := a.Building, a.Study().Model()
	mean := m.MeanOccupants(b.OccupantsDay, b.OccupantsNight)
	if !(mean > 0) {
		return math.NaN()
	}
	return a.Before.Dead * m.Occupants(period, b.OccupantsDay, b.OccupantsNight) / mean
}

// fillBest fills the columns of the best measure.
func (w *rowWriter) fillBest(a *assess.Assessment) {
	row, c := &w.building, &a.Choice
	best := a.Scored(c.Best) // there is always one: doing nothing
	row.Best, row.Score, row.ScoreResolution, row.Tied = best.Measure, best.Score,
		ranking.Resolution*best.Scale, c.Tied()
	if c.RunnerUp >= 0 {
		row.RunnerUp = a.Scored(c.RunnerUp).Measure
		row.Margin = 100 * c.Margin / math.Abs(best.Score) // not finite, so missing, for a best score of 0
	}
	row.BestForLives = ranking.NoMeasure
	if o, _ := a.BestBy(ranking.LifeSafety); o != nil {
		row.BestForLives = o.Measure.Slug()
	}
	o := a.Best()
	if o == nil { // doing nothing costs nothing and changes nothing
		row.PaysMeasure, row.PaysBelow = nearestToPaying(a)
		row.BestCostLow, row.BestCostLikely, row.BestCostHigh, row.BestNetBenefit = 0, 0, 0, 0
		row.BestDrift, row.BestFloorAccel = row.Drift, row.FloorAccel
		return
	}
	after := &o.Levels[a.Study().Design()]
	row.BestCostLow, row.BestCostLikely, row.BestCostHigh = o.Cost.Low, o.Cost.Likely, o.Cost.High
	row.BestNetBenefit, row.BestBenefitCost = o.Benefits[0].Net, o.Benefits[0].Ratio
	row.BestDrift, row.BestFloorAccel = 100*after.DriftRatio, after.PeakAccel/hazard.Gravity
	row.BestVerdict, row.BestFallsShort = o.Verdict.String(), o.Short
}

// nearestToPaying returns the measure with the largest benefit over its likely cost, and that
// benefit: the cost below which it pays. Without one it returns "" and NaN.
func nearestToPaying(a *assess.Assessment) (slug string, below float64) {
	best := 0.0
	below = math.NaN()
	for i := range a.Options {
		o := &a.Options[i]
		if ratio := o.Benefits[0].Ratio; a.Choosable(o) && ratio > best {
			slug, best, below = o.Measure.Slug(), ratio, o.Benefits[0].Present
		}
	}
	return slug, below
}

// fillCandidate fills the row of one feasible measure.
func (w *rowWriter) fillCandidate(row *output.Candidate, o *assess.Option) {
	a := w.a
	b, design := a.Building, a.Study().Design()
	output.Candidates.Blank(row)
	now, after := &a.AsIs[design], &o.Levels[design]
	row.BuildingID, row.BuildingName, row.Measure = b.ID, b.Name, o.Measure.Slug()
	row.Lon, row.Lat, row.DataGrade = b.Lon, b.Lat, w.building.DataGrade
	row.Score = o.Score
	row.NetBenefit, row.BenefitCostRatio, row.BenefitPresentValue = o.Benefits[0].Net, o.Benefits[0].Ratio,
		o.Benefits[0].Present
	row.BenefitLowRate, row.BenefitHighRate = o.Benefits[1].Present, o.Benefits[2].Present
	row.CostsLives, row.FallsShort = o.CostsLives(&a.Before), o.Short
	row.DeathsAvoided, row.ContentsAvoided, row.DaysAvoided = o.Parts.DeathsAvoided, o.Parts.ContentsAvoided,
		o.Parts.DaysAvoided
	row.CostLow, row.CostLikely, row.CostHigh, row.Currency = o.Cost.Low, o.Cost.Likely, o.Cost.High,
		a.Study().Plan().Measures.Currency
	row.AnnualLossBefore, row.AnnualLossAfter = a.Before.Total, o.After.Total
	row.FatalitiesBefore, row.FatalitiesAfter, row.StreetAfter = a.Before.Dead, o.After.Dead, o.After.Street
	row.DesignReturnPeriod = a.Study().Plan().Hazard.Design
	row.DriftBefore, row.DriftAfter = 100*now.DriftRatio, 100*after.DriftRatio
	row.FloorAccelBefore, row.FloorAccelAfter = now.PeakAccel/hazard.Gravity, after.PeakAccel/hazard.Gravity
	items := retrofit.ContentsResponse(&a.Case, o.Levels, a.Study().Plan().Consequence.FreeStanding)
	row.EquipmentAccelAfter, row.CabinetAccelAfter, row.FragileAccelAfter = itemAccelerations(&items)
	row.ObjectsMoveBefore, row.ObjectsMoveAfter = w.building.ObjectsMoveAt, items.MovesAt
	row.BaseShearBefore, row.BaseShearAfter = now.BaseShear/a.Archetype.Weight,
		after.BaseShear/a.Archetype.Weight
	if after.Displacement > 0 {
		row.IsolatorDisplacement = after.Displacement
	}
	row.PeriodBefore, row.PeriodAfter = a.Archetype.Period, after.Period
	if a.Ground.Period > 0 {
		row.SitePeriod = a.Ground.Period
		row.ResonantBefore, row.ResonantAfter = a.Resonant(row.PeriodBefore), a.Resonant(row.PeriodAfter)
	}
	row.Design, row.DisruptionWeeks = w.text.design(o), o.Weeks
	row.Verdict = o.Verdict.String()
	if o.Verdict != retrofit.Clear {
		row.VerdictReason = w.text.reason(o)
	}
	row.SolverStatus = solverStatus(o.Levels, a.Study())
	row.HazardStatus = w.building.HazardStatus
}

// itemAccelerations returns the accelerations in g of equipment, cabinets and
// fragile objects: the kinds of contents that have a column.
func itemAccelerations(d *retrofit.ContentsDemand) (equipment, cabinets, fragile float64) {
	return d.Items[retrofit.Equipment] / hazard.Gravity, d.Items[retrofit.Cabinets] / hazard.Gravity,
		d.Items[retrofit.FragileObjects] / hazard.Gravity
}

// solverStatus returns the status of the design level, and that of the plan's other return periods
// where it differs.
func solverStatus(levels []demand.Response, study *assess.Study) string {
	at := levels[study.Design()].Status
	var others demand.Status
	for _, i := range study.Asked() {
		others |= levels[i].Status
	}
	words := strings.Join(at.Words(), "; ")
	if others &^= at; others == 0 {
		return words
	}
	if words != "" {
		words += "; "
	}
	return words + "at other return periods: " + strings.Join(others.Words(), "; ")
}
