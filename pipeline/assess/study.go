package assess

import (
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"

	"plinth/archetypes"
	"plinth/hazard/field"
	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
	"plinth/pipeline/plan"
	"plinth/pipeline/ranking"
	"plinth/retrofit"
	"plinth/retrofit/consequence"
	"plinth/retrofit/rating"
)

// A Study is a plan made ready: all files that it names have been opened, read and checked.
// It is read only. Each goroutine works with an Assessment of its own.
type Study struct {
	plan      *plan.Plan
	field     field.Field
	tables    *archetypes.Tables
	region    archetypes.Region
	zone      archetypes.Zone
	measures  []retrofit.Measure
	bySlug    []int // indices of measures, in the order of their slugs
	model     *consequence.Model
	objective *ranking.Objective
	design    int              // index of the design return period among the levels of the hazard
	asked     []int            // indices of the plan's return periods among them
	rule      consequence.Rule // of annual values
	target    target

	scales []rating.Scale // published ones the plan asks for

	lossTables   []string // paths of the tables the plan replaces
	soilIncluded bool     // the hazard holds for the ground, not for rock
	ground       ground
	stamps       []inputStamp // of the inputs, before they were read
}

// Open makes p ready. The error joins all that is wrong. A plan without a hazard, as
// plan.LoadRegister accepts, gives a study that can read the register and nothing else.
func Open(p *plan.Plan) (*Study, error) {
	study := &Study{plan: p, soilIncluded: p.Hazard.SoilIncluded != nil && *p.Hazard.SoilIncluded}
	var errs []error
	keep := func(err error) {
		if err != nil {
			errs = append(errs, err)
		}
	}
	_, err := os.Stat(p.Inventory.Path)
	keep(study.InPlan("inventory.path", errors.Join(named(err), study.stamp(p.Inventory.Path))))
	var others []error
	for _, path := range study.Files() {
		others = append(others, study.stamp(path))
	}
	if err := errors.Join(others...); err != nil {
		return nil, err
	}
	study.model, study.lossTables, err = openLossModel(p.Consequence.Tables, p.Measures.Use)
	keep(study.InPlan("consequence.tables", err))
	if err == nil && study.HasHazard() {
		study.field, err = openField(&p.Hazard, study.soilIncluded, study.model.Rungs(p.Hazard.ReturnPeriods))
		keep(err)
	}
	study.ground, err = openGround(&p.Hazard)
	keep(study.InPlan("hazard.site_zones", err))
	keep(study.openTables(&p.Archetypes))
	study.objective, err = objective(&p.Objective)
	keep(study.InPlan("objective.rank_by", err))
	keep(study.openTarget())
	for _, path := range study.lossTables {
		keep(study.InPlan("consequence.tables", study.stamp(path)))
	}
	keep(study.openMeasures())
	for _, slug := range p.Rating.Scales {
		s, err := rating.Parse(slug)
		keep(study.InPlan("rating.scales", err))
		study.scales = append(study.scales, s)
	}
	if len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	if study.HasHazard() {
		study.setLevels()
	}
	return study, nil
}

// HasHazard reports whether the plan names a hazard.
func (study *Study) HasHazard() bool { return study.plan.Hazard.Kind != "" }

// Under returns a study with the return periods and the measures of p and the hazard f. The
// tables, the register and the ratings are those of study.
func (study *Study) Under(p *plan.Plan, f field.Field) (*Study, error) {
	out := *study
	out.plan, out.field = p, f
	out.setLevels()
	return &out, out.openMeasures()
}

// openMeasures makes the measures of the plan.
func (study *Study) openMeasures() error {
	use := study.plan.Measures.Use
	study.measures, study.bySlug = make([]retrofit.Measure, len(use)), make([]int, len(use))
	var errs []error
	for i, slug := range use {
		var err error
		study.measures[i], err = study.plan.Measures.Options.Measure(slug)
		errs, study.bySlug[i] = append(errs, study.InPlan("measures.use", err)), i
	}
	slices.SortFunc(study.bySlug, func(i, j int) int { return strings.Compare(use[i], use[j]) })
	return errors.Join(errs...)
}

// setLevels finds the return periods of the plan and of its target among those of the hazard, and the
// rule of annual values. A hazard that lacks a rung, as tests have, is integrated over all its levels.
func (study *Study) setLevels() {
	study.setTarget()
	h := &study.plan.Hazard
	years := study.field.ReturnPeriods()
	study.asked, study.design = nil, 0
	for i, tr := range years {
		if slices.Contains(h.ReturnPeriods, tr) {
			study.asked = append(study.asked, i)
		}
		if tr == h.Design {
			study.design = i
		}
	}
	rungs := study.model.Rungs(h.ReturnPeriods)
	for _, tr := range rungs {
		if !slices.Contains(years, tr) {
			rungs = years
			break
		}
	}
	study.rule = consequence.NewRule(years, rungs, h.ReturnPeriods)
}

// InPlan adds to err the key of the plan that it concerns and the line of the key.
func (study *Study) InPlan(key string, err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("%s: %w", study.plan.At(key), err)
}

// OpenNamed opens a file that the plan names.
func OpenNamed(path string) (*os.File, error) {
	f, err := os.Open(path)
	return f, named(err)
}

// named adds to err that paths in a plan are relative to the plan.
func named(err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("%w; the path is relative to the plan", err)
}

// Hazard returns the hazard of the study.
func (study *Study) Hazard() field.Field { return study.field }

// Measures returns the measures of the plan, one an option of an Assessment.
func (study *Study) Measures() []retrofit.Measure { return study.measures }

// MeasuresBySlug returns the indices of the measures in the order of their slugs.
func (study *Study) MeasuresBySlug() []int { return study.bySlug }

// Coverage describes the hazard, for a report.
func (study *Study) Coverage() field.Coverage {
	if !study.HasHazard() {
		return field.Coverage{}
	}
	return study.field.Coverage()
}

// Plan returns the effective plan.
func (study *Study) Plan() *plan.Plan { return study.plan }

// Column returns the register's name of the column of f, or f's own name.
func (study *Study) Column(f inventory.Field) string {
	if c := study.plan.Inventory.Columns[f.String()]; c != "" {
		return c
	}
	return f.String()
}

// Model returns the consequence model of the study.
func (study *Study) Model() *consequence.Model { return study.model }

// Objective returns the objective that buildings are ranked by.
func (study *Study) Objective() *ranking.Objective { return study.objective }

// Design returns the index of the design return period among the levels of an Assessment.
func (study *Study) Design() int { return study.design }

// Rule returns the rule of annual values over the levels of an Assessment.
func (study *Study) Rule() *consequence.Rule { return &study.rule }

// Asked returns the indices of the plan's return periods among the levels of an Assessment; the
// other levels are those that annual values need.
func (study *Study) Asked() []int { return study.asked }

// About returns what every file says of a run by the given version of the program.
func (study *Study) About(version string) output.About {
	return output.About{Version: version, Currency: study.plan.Measures.Currency,
		PriceDate: study.plan.Measures.PriceDate, BuiltIn: study.plan.BuiltIn()}
}
