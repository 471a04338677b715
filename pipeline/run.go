package pipeline

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
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

// A Run is a plan made ready: everything it names is opened, read and checked.
// It is read only; each goroutine works with an Assessment of its own.
type Run struct {
	plan      *plan.Plan
	field     field.Field
	tables    *archetypes.Tables
	region    archetypes.Region
	zone      archetypes.Zone
	measures  []retrofit.Measure
	bySlug    []int // indices of measures, in the order of their slugs
	model     *consequence.Model
	objective *ranking.Objective
	design    int       // index of the design return period
	frequency []float64 // 1/yr, one a return period

	scales []rating.Scale // published ones the plan asks for

	lossTables   []string // paths of the tables the plan replaces
	soilIncluded bool     // the hazard holds for the ground, not for rock
	ground       ground
	seen         []sighting // of the inputs, before they were read
}

// Open makes p ready to run. The error joins everything that is wrong.
func Open(p *plan.Plan) (*Run, error) {
	r := &Run{plan: p, soilIncluded: p.Hazard.SoilIncluded != nil && *p.Hazard.SoilIncluded}
	var errs []error
	keep := func(err error) {
		if err != nil {
			errs = append(errs, err)
		}
	}
	_, err := os.Stat(p.Inventory.Path)
	keep(r.inPlan("inventory.path", errors.Join(named(err), r.sight(p.Inventory.Path))))
	var others []error
	for _, path := range r.files() {
		others = append(others, r.sight(path))
	}
	if err := errors.Join(others...); err != nil {
		return nil, err
	}
	r.field, err = openField(&p.Hazard, r.soilIncluded)
	keep(err)
	r.ground, err = openGround(&p.Hazard)
	keep(r.inPlan("hazard.site_zones", err))
	keep(r.openTables(&p.Archetypes))
	r.objective, err = objective(&p.Objective)
	keep(r.inPlan("objective.rank_by", err))
	r.model, r.lossTables, err = openModel(p.Consequence.Tables, p.Measures.Use)
	keep(r.inPlan("consequence.tables", err))
	for _, path := range r.lossTables {
		keep(r.inPlan("consequence.tables", r.sight(path)))
	}
	keep(r.openMeasures())
	for _, slug := range p.Rating.Scales {
		s, err := rating.Parse(slug)
		keep(r.inPlan("rating.scales", err))
		r.scales = append(r.scales, s)
	}
	if len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	r.setLevels()
	return r, nil
}

// Under returns the run under another plan and hazard: its return periods and its measures
// are those of p, its tables, its register and its ratings stay.
func (r *Run) Under(p *plan.Plan, f field.Field) (*Run, error) {
	out := *r
	out.plan, out.field = p, f
	out.setLevels()
	return &out, out.openMeasures()
}

// openMeasures makes the measures of the plan.
func (r *Run) openMeasures() error {
	use := r.plan.Measures.Use
	r.measures, r.bySlug = make([]retrofit.Measure, len(use)), make([]int, len(use))
	var errs []error
	for i, slug := range use {
		var err error
		r.measures[i], err = r.plan.Measures.Options.Measure(slug)
		errs, r.bySlug[i] = append(errs, r.inPlan("measures.use", err)), i
	}
	slices.SortFunc(r.bySlug, func(i, j int) int { return strings.Compare(use[i], use[j]) })
	return errors.Join(errs...)
}

// setLevels notes the annual frequency of each return period and which one is that of the
// design.
func (r *Run) setLevels() {
	r.frequency, r.design = nil, 0
	for i, tr := range r.plan.Hazard.ReturnPeriods {
		r.frequency = append(r.frequency, 1/tr)
		if tr == r.plan.Hazard.Design {
			r.design = i
		}
	}
}

// openModel returns the consequence model for the measures called slugs, with tables of a
// folder if it is named, and the paths of those.
func openModel(folder string, slugs []string) (*consequence.Model, []string, error) {
	options := consequence.DefaultOptions()
	var paths []string
	if folder != "" {
		var found []string
		var err error
		if options, found, err = consequence.OverlayOptions(os.DirFS(folder)); err != nil {
			return nil, nil, err
		}
		for _, name := range found {
			paths = append(paths, filepath.Join(folder, name))
		}
	}
	m, err := consequence.New(options, slugs...)
	return m, paths, err
}

// objective returns what the plan ranks by.
func objective(o *plan.Objective) (*ranking.Objective, error) {
	if o.RankBy == ranking.WeightedSlug {
		return ranking.Weighted(o.Weights.List())
	}
	return ranking.ParseObjective(o.RankBy)
}

// openTables makes the tables of archetypes ready, with the plan's own rows over the
// embedded ones, and finds the plan's region and zone in them.
func (r *Run) openTables(a *plan.Archetypes) error {
	r.tables = archetypes.Default()
	for _, t := range []struct {
		key, path string
		with      func(*archetypes.Tables, io.Reader, string) (*archetypes.Tables, error)
	}{
		{"archetypes.systems", a.Systems, (*archetypes.Tables).WithSystems},
		{"archetypes.eras", a.Eras, (*archetypes.Tables).WithEras},
	} {
		if t.path == "" {
			continue
		}
		f, err := os.Open(t.path)
		if err != nil {
			return r.inPlan(t.key, err)
		}
		tables, err := t.with(r.tables, f, t.path)
		f.Close()
		if err != nil {
			return r.inPlan(t.key, err)
		}
		r.tables = tables
	}
	var err error
	if r.region, err = r.tables.ParseRegion(a.Region); err != nil {
		return r.inPlan("archetypes.region", err)
	}
	r.zone, err = r.tables.ParseZone(r.region, a.Zone)
	return r.inPlan("archetypes.zone", err)
}

// inPlan says of which key of the plan err is, and where that stands.
func (r *Run) inPlan(key string, err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("%s: %w", r.plan.At(key), err)
}

// openNamed opens a file that the plan names.
func openNamed(path string) (*os.File, error) {
	f, err := os.Open(path)
	return f, named(err)
}

// named adds to err, of a path that the plan names, where such paths begin.
func named(err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("%w; the path is relative to the plan", err)
}

// Hazard returns the hazard of the run.
func (r *Run) Hazard() field.Field { return r.field }

// Measures returns the measures of the plan, one an option of an Assessment.
func (r *Run) Measures() []retrofit.Measure { return r.measures }

// MeasuresBySlug returns the indices of the measures in the order of their slugs.
func (r *Run) MeasuresBySlug() []int { return r.bySlug }

// Coverage describes the hazard, for a report.
func (r *Run) Coverage() field.Coverage { return r.field.Coverage() }

// Plan returns the effective plan.
func (r *Run) Plan() *plan.Plan { return r.plan }

// column returns the register's name of the column of f, or f's own name.
func (r *Run) column(f inventory.Field) string {
	if c := r.plan.Inventory.Columns[f.String()]; c != "" {
		return c
	}
	return f.String()
}

// Model returns the consequence model of the run.
func (r *Run) Model() *consequence.Model { return r.model }

// Objective returns what the run ranks by.
func (r *Run) Objective() *ranking.Objective { return r.objective }

// Design returns the index of the design return period among the plan's.
func (r *Run) Design() int { return r.design }

// About is what files say of the run.
func (r *Run) About(version string) output.About {
	return output.About{Version: version, Currency: r.plan.Measures.Currency, PriceDate: r.plan.Measures.PriceDate}
}
