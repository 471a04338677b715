package pipeline

import (
	"math"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/pipeline/inventory"
	"plinth/pipeline/ranking"
	"plinth/retrofit"
	"plinth/retrofit/consequence"
	"plinth/retrofit/demand"
)

// An Assessment is one building on its way through a run: everything that was
// read, assumed and computed for it. It is the scratch space of one goroutine,
// filled anew by each Assess, and what a calculation sheet is printed from.
type Assessment struct {
	Building  *inventory.Building
	Again     []inventory.Reject // other rows of its id, which were rejected; of one building alone
	Site      hazard.Site
	Archetype archetypes.Archetype
	Stick     archetypes.Stick
	Case      retrofit.Case
	AsIs      []demand.Response // one a return period
	Before    consequence.Annual
	Exposure  consequence.Exposure // as it stands
	Options   []Option             // one a measure of the plan
	Choice    ranking.Choice
	Ground    Ground

	Work retrofit.Work

	run    *Run
	rock   hazard.Site // the same place on rock
	beside hazard.Site // and on ground of a class beside
	levels []consequence.Level
	scores []ranking.Option // those of Options, then doing nothing

	ratios, shaking []float64 // of a rating, one a return period

	truth truth  // what is taken to be true of the building
	only  []bool // measures to evaluate, one an option; nil for all
}

// An Option is one measure for the building of an Assessment.
type Option struct {
	retrofit.Outcome
	Exposure consequence.Exposure
	After    consequence.Annual
	Benefits [3]consequence.Benefit // at the plan's rate and two others
	Parts    ranking.Parts          // of the score
	Score    float64                // by the plan's objective; NaN where it has none
}

// Feasible reports whether the option may be chosen: not barred.
func (o *Option) Feasible() bool { return o.Verdict != retrofit.Bar && len(o.Levels) > 0 }

// deathsTolerance is the rise of expected deaths, over those as the building stands,
// that is taken for none: the numbers are no finer (judgement).
const deathsTolerance = 0.01

// CostsLives reports whether by these numbers more people would die with the option
// than as the building stands. Such an option is shown and never chosen, whatever
// money it saves.
func (o *Option) CostsLives(before *consequence.Annual) bool {
	return o.Feasible() && o.After.Dead > (1+deathsTolerance)*before.Dead
}

// choosable reports whether an option may be chosen: it fits and costs no lives.
func (a *Assessment) choosable(o *Option) bool { return o.Feasible() && !o.CostsLives(&a.Before) }

// NewAssessment returns the scratch space of one goroutine.
func (r *Run) NewAssessment() *Assessment {
	return &Assessment{run: r, Options: make([]Option, len(r.measures))}
}

// Assess takes b through the run. It returns why the building cannot be assessed,
// which is an error of its data: a place without hazard, storeys outside the
// method; or a *FailedError. The assessment then holds nothing of use.
func (a *Assessment) Assess(b *inventory.Building) error {
	a.truth, a.only = asDescribed, nil
	return a.assess(b)
}

// assess takes b through the run under a.truth and with the measures of a.only.
func (a *Assessment) assess(b *inventory.Building) error {
	err := a.stages(b)
	if failure(err) != nil {
		*a = *a.run.NewAssessment()
	}
	return err
}

// stages takes b through the stages of a run, one after the other.
func (a *Assessment) stages(b *inventory.Building) (err error) {
	defer recovered(b, &err)
	r := a.run
	a.Building = b
	if err := r.lookup(b, b.SiteClass, &a.Site); err != nil {
		return err
	}
	d, err := a.describe(b)
	if err != nil {
		return err
	}
	if err := r.tables.Assign(&d, &a.Archetype); err != nil {
		return err
	}
	a.truth.apply(&a.Site, &a.Archetype)
	a.Archetype.Build(&a.Stick)
	a.onGround()
	a.stand(b)
	a.Exposure = a.exposure("none")
	a.read(a.AsIs)
	r.model.Annual(&a.Exposure, a.levels, r.frequency, &a.Before)
	for i := range a.Options {
		if a.only == nil || a.only[i] {
			a.option(&a.Options[i], r.measures[i])
		}
	}
	if a.only == nil {
		a.choose()
	}
	return nil
}

// stand computes the building as it stands and the case the measures start from.
func (a *Assessment) stand(b *inventory.Building) {
	if len(a.AsIs) != len(a.Site.Spectra) {
		a.AsIs = make([]demand.Response, len(a.Site.Spectra))
	}
	for i := range a.AsIs {
		a.Work.Demand.AsIs(&a.Stick, &a.Site.Spectra[i], &a.AsIs[i])
	}
	facts := b.Facts()
	facts.Height = a.Archetype.Height
	facts.Light = answer(a.Archetype.Light)
	facts.Brittle = answer(a.Archetype.BrittleColumns)
	facts.SiteClass = a.run.ground.standard.ASCE7(a.siteClass()) // the rules speak in its letters
	a.Case = retrofit.Case{Facts: facts, Stick: &a.Stick, Site: &a.Site, Design: a.run.design, AsIs: a.AsIs}
}

func answer(yes bool) retrofit.Answer {
	if yes {
		return retrofit.Yes
	}
	return retrofit.No
}

// option evaluates one measure and what it is worth.
func (a *Assessment) option(o *Option, m retrofit.Measure) {
	r := a.run
	m.Evaluate(&a.Work, &a.Case, &o.Outcome)
	if !o.Feasible() {
		o.Score = math.NaN()
		return
	}
	o.Exposure = a.exposure(m.Slug())
	o.Exposure.Displacement = r.capacity(o.Levels, a.Case.Facts.Gap)
	a.read(o.Levels)
	r.model.Annual(&o.Exposure, a.levels, r.frequency, &o.After)
	c := &r.plan.Consequence
	o.Benefits = consequence.Appraise(a.Before.Total-o.After.Total, o.Cost.Likely, c.LifeYears, c.DiscountRate)
	o.Parts = ranking.PartsOf(&a.Before, &o.After, o.Cost.Likely, c.LifeYears, c.DiscountRate)
	o.Score = r.objective.Score(&o.Parts)
}

// choose puts the options and doing nothing in order.
func (a *Assessment) choose() {
	a.scores = a.scores[:0]
	for i := range a.Options {
		o := &a.Options[i]
		a.scores = append(a.scores, ranking.Option{
			Measure: o.Measure.Slug(), Score: o.Score, Scale: a.run.objective.Scale(&o.Parts), Barred: !a.choosable(o),
		})
	}
	a.scores = append(a.scores, ranking.Option{Measure: ranking.NoMeasure, Score: a.run.objective.None})
	ranking.Choose(a.scores, &a.Choice)
}

// Best returns the best option by the plan's objective, or nil for doing nothing.
func (a *Assessment) Best() *Option { return a.at(a.Choice.Best) }

// RunnerUp returns the second option, or nil for doing nothing or none.
func (a *Assessment) RunnerUp() *Option { return a.at(a.Choice.RunnerUp) }

// at returns option i of the choice, nil for doing nothing.
func (a *Assessment) at(i int) *Option {
	if i < 0 || i >= len(a.Options) {
		return nil
	}
	return &a.Options[i]
}

// Isolators and their moat are built for the total displacement of the MCER, at
// least 1.15 times that at the centre (ASCE 7-16 17.5.3.1 and 17.5-3, from memory),
// for which a return period of 2475 years stands in, and give out a tenth beyond
// (judgement). Where the run
// has no level that rare they are built for 1.5 times that of the design level
// (judgement; Kitayama and Cilsalar 2022 find 1.5 times the least allowed the best
// choice).
const (
	mceReturnPeriod    = 2475 // yr
	mceReserve         = 1.15 * 1.1
	designReserve      = 1.5
	leastMCELevelShare = 0.8 // of mceReturnPeriod, for a level to stand for it
)

// capacity returns the displacement in m that isolators and gap can take; 0
// without isolators. A party wall, a gap of 0, bars isolation before this.
func (r *Run) capacity(levels []demand.Response, gap float64) float64 {
	d := designReserve * levels[r.design].Displacement
	mce, _ := nearestLevel(r.plan.Hazard.ReturnPeriods, mceReturnPeriod)
	if r.plan.Hazard.ReturnPeriods[mce] >= leastMCELevelShare*mceReturnPeriod {
		d = mceReserve * levels[mce].Displacement
	}
	if gap < d { // false for an unknown gap
		return gap
	}
	return d
}

// read turns responses into the levels of the consequence model.
func (a *Assessment) read(responses []demand.Response) {
	if len(a.levels) != len(responses) {
		a.levels = make([]consequence.Level, len(responses))
	}
	for i := range responses {
		p := &responses[i]
		a.levels[i].Read(p.Drift, a.Stick.Height, p.BaseAccel, p.Accel, p.Displacement)
	}
}

// describe returns what the archetype tables need to know of b, once its hazard is
// read.
func (a *Assessment) describe(b *inventory.Building) (archetypes.Description, error) {
	r := a.run
	d := archetypes.Unknown()
	d.System, d.Region, d.Zone = b.System, r.region, r.zone
	d.Year, d.YearStrengthened = b.Year, b.YearStrengthened
	d.Storeys, d.Height, d.FloorArea, d.Footprint, d.Profile = b.Storeys, b.Height, b.FloorArea, b.Footprint, b.Profile
	d.PlanIrregular = b.PlanIrregular == retrofit.Yes
	d.PeriodGiven, d.StrengthGiven = b.Period, b.StrengthRatio
	d.KnowledgeFactor, d.TL = r.plan.Archetypes.KnowledgeFactor, r.plan.Hazard.TL
	var rock *hazard.Site
	if !r.soilIncluded {
		if err := r.lookup(b, r.ground.standard.Rock(), &a.rock); err != nil {
			return d, err
		}
		rock = &a.rock
	}
	designOf(&a.Site, rock, &d)
	return d, nil
}

// strengthShare is how much of the dispersion of strength reaches drift: drift
// of a yielding frame follows displacement more than strength (judgement).
const strengthShare = 0.5

// exposure returns what the building has to lose with the measure called slug. What
// is not known of it and of its ground widens the spread of demand.
func (a *Assessment) exposure(slug string) consequence.Exposure {
	r, b, arch := a.run, a.Building, &a.Archetype
	e := consequence.Exposure{
		Value:          b.Value,
		OccupantsDay:   b.OccupantsDay,
		OccupantsNight: b.OccupantsNight,
		Light:          arch.Light,
		DowntimeValue:  b.Value * r.plan.Consequence.DowntimeShare / 365,
		Contents:       b.Contents,
		Limits:         [consequence.NumLimitStates]float64{arch.Limits.ImmediateOccupancy, arch.Limits.LifeSafety, arch.Limits.CollapsePrevention},
	}
	e.Split, _ = r.model.Split(b.Use.String())
	kind, _ := retrofit.KindOf(slug)
	band := kind.BandOf(r.plan.Measures.Options, arch.Storeys) // which the model has: Open saw to it
	if a.truth.drawn {
		e.Spread, _ = r.model.SpreadKnown(band)
		return e
	}
	knowledge := math.Hypot(math.Hypot(arch.PeriodBeta, strengthShare*arch.StrengthBeta), a.Ground.Spread)
	knowledge = math.Hypot(knowledge, imputedSpread(b))
	e.Spread, _ = r.model.Spread(band, knowledge)
	e.Spread.Displacement = math.Hypot(e.Spread.Displacement, a.Ground.Spread) // of the ground, not of the building
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
