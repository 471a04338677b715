package assess

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

// An Assessment holds everything that was read, assumed and computed for one building. It
// is the scratch space of one goroutine; each Assess overwrites it. A calculation sheet is
// printed from it.
type Assessment struct {
	Building  *inventory.Building
	Again     []inventory.Reject // other rows of its id, which were rejected; of one building alone
	Site      hazard.Site
	Rock      hazard.Site // the same place on rock; not filled where the hazard holds for the ground
	Archetype archetypes.Archetype
	Stick     archetypes.Stick
	Case      retrofit.Case
	AsIs      []demand.Response // one a level of the site: the plan's return periods and those between
	Before    consequence.Annual
	Exposure  consequence.Exposure // as it stands
	Options   []Option             // one a measure of the plan
	Choice    ranking.Choice
	Ground    Ground

	Work retrofit.Work

	study  *Study
	beside hazard.Site // the same place on ground of the next class
	levels []consequence.Level
	scores []ranking.Option // those of Options, then doing nothing

	ratios, shaking []float64 // of a rating, one a level

	perturbation perturbation // factors on the medians of the building
	only         []bool       // measures to evaluate, one an option; nil for all
	reached      bool         // an option that may be chosen reaches the plan's target
}

// NewAssessment returns the scratch space of one goroutine.
func (study *Study) NewAssessment() *Assessment {
	return &Assessment{study: study, Options: make([]Option, len(study.measures))}
}

// Study returns the study that the building is assessed in.
func (a *Assessment) Study() *Study { return a.study }

// Assess takes b through every stage. The error says why b cannot be assessed: its data
// lead outside the hazard or the method, or the program failed on it (*FailedError). The
// assessment then holds nothing of use.
func (a *Assessment) Assess(b *inventory.Building) error {
	a.perturbation, a.only = unperturbed, nil
	return a.assess(b)
}

// assess takes b through every stage under a.perturbation, with the measures of a.only.
func (a *Assessment) assess(b *inventory.Building) error {
	err := a.stages(b)
	if FailureOf(err) != nil {
		*a = *a.study.NewAssessment()
	}
	return err
}

// stages takes b through the stages, one after the other.
func (a *Assessment) stages(b *inventory.Building) (err error) {
	defer CatchPanic(b, &err)
	study := a.study
	a.Building = b
	if err := study.lookup(b, b.SiteClass, &a.Site); err != nil {
		return err
	}
	d, err := a.describe(b)
	if err != nil {
		return err
	}
	if err := study.tables.Assign(&d, &a.Archetype); err != nil {
		return err
	}
	a.perturbation.apply(&a.Site, &a.Archetype)
	a.Archetype.Build(&a.Stick)
	a.onGround()
	a.stand(b)
	a.Exposure = a.exposure("none")
	a.read(a.AsIs)
	study.model.Annual(&a.Exposure, a.levels, &study.rule, &a.Before)
	for i := range a.Options {
		if a.only == nil || a.only[i] {
			a.option(&a.Options[i], study.measures[i])
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
	facts.SiteClass = a.study.ground.standard.ASCE7(a.SiteClass()) // the rules speak in its letters
	facts.SitePeriod = a.Ground.Period
	a.Case = retrofit.Case{Facts: facts, Stick: &a.Stick, Site: &a.Site, Design: a.study.design,
		Beyond: len(a.AsIs) - 1 - a.study.asked[len(a.study.asked)-1], AsIs: a.AsIs}
}

func answer(yes bool) retrofit.Answer {
	if yes {
		return retrofit.Yes
	}
	return retrofit.No
}

// option evaluates one measure and what it is worth.
func (a *Assessment) option(o *Option, m retrofit.Measure) {
	study := a.study
	m.Evaluate(&a.Work, &a.Case, &o.Outcome)
	if !o.Feasible() {
		o.Score = math.NaN()
		return
	}
	o.Exposure = a.exposure(m.Slug())
	o.Exposure.Displacement = o.Travel.Capacity(a.Case.Facts.Gap)
	a.read(o.Levels)
	study.model.Annual(&o.Exposure, a.levels, &study.rule, &o.After)
	c := &study.plan.Consequence
	o.Benefits = consequence.Appraise(a.Before.Total-o.After.Total, o.Cost.Likely, c.LifeYears,
		c.DiscountRate)
	o.Parts = ranking.PartsOf(&a.Before, &o.After, o.Cost.Likely, c.LifeYears, c.DiscountRate)
	o.Score = study.objective.Score(&o.Parts)
}

// read turns responses into the levels of the consequence model.
func (a *Assessment) read(responses []demand.Response) {
	if len(a.levels) != len(responses) {
		a.levels = make([]consequence.Level, len(responses))
	}
	for i := range responses {
		a.Level(&responses[i], &a.levels[i])
	}
}

// Level sets l to what determines the loss of a response of the building.
func (a *Assessment) Level(p *demand.Response, l *consequence.Level) {
	l.Read(p.Drift, a.Stick.Height, p.BaseAccel, p.Accel, p.Displacement)
	l.Collapsed = p.Status&demand.CollapseCounted != 0
}

// AnnualOf returns the annual loss for the given responses, one a level of the site.
func (a *Assessment) AnnualOf(levels []demand.Response, e *consequence.Exposure) consequence.Annual {
	return a.AnnualBy(&a.study.rule, levels, e)
}

// AnnualBy is AnnualOf by another rule.
func (a *Assessment) AnnualBy(r *consequence.Rule, levels []demand.Response,
	e *consequence.Exposure) (out consequence.Annual) {
	a.read(levels)
	a.study.model.Annual(e, a.levels, r, &out)
	return out
}

// describe returns the description of b for the archetype tables. Its hazard has been read.
func (a *Assessment) describe(b *inventory.Building) (archetypes.Description, error) {
	study := a.study
	d := archetypes.Unknown()
	d.System, d.Region, d.Zone = b.System, study.region, study.zone
	d.Year, d.YearStrengthened, d.Classified = b.Year, b.YearStrengthened, b.ClassifiedYear
	d.Importance = b.Use.Importance()
	d.Storeys, d.Height, d.FloorArea, d.Footprint, d.Profile = b.Storeys, b.Height, b.FloorArea, b.Footprint,
		b.Profile
	d.PlanIrregular = b.PlanIrregular == retrofit.Yes
	d.PeriodGiven, d.StrengthGiven = b.Period, b.StrengthRatio
	d.TL = study.plan.Hazard.TL
	var rock *hazard.Site
	if !study.soilIncluded {
		if err := study.lookup(b, study.ground.standard.Rock(), &a.Rock); err != nil {
			return d, err
		}
		rock = &a.Rock
	}
	designOf(&a.Site, rock, &d)
	return d, nil
}
