package assess

import (
	"io"
	"os"
	"path/filepath"

	"plinth/archetypes"
	"plinth/pipeline/plan"
	"plinth/pipeline/ranking"
	"plinth/retrofit/consequence"
)

// openLossModel returns the consequence model for the measures called slugs. If folder is
// named, its tables replace the embedded ones; their paths are returned too.
func openLossModel(folder string, slugs []string) (*consequence.Model, []string, error) {
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

// objective returns the objective of the plan.
func objective(o *plan.Objective) (*ranking.Objective, error) {
	if o.RankBy == ranking.WeightedSlug {
		return ranking.Weighted(o.Weights.List())
	}
	return ranking.ParseObjective(o.RankBy)
}

// openTables reads the archetype tables, lays the plan's own rows over the embedded ones, and
// finds the plan's region and zone in them.
func (study *Study) openTables(a *plan.Archetypes) error {
	study.tables = archetypes.Default()
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
			return study.InPlan(t.key, err)
		}
		tables, err := t.with(study.tables, f, t.path)
		f.Close()
		if err != nil {
			return study.InPlan(t.key, err)
		}
		study.tables = tables
	}
	var err error
	if study.region, err = study.tables.ParseRegion(a.Region); err != nil {
		return study.InPlan("archetypes.region", err)
	}
	study.zone, err = study.tables.ParseZone(study.region, a.Zone)
	return study.InPlan("archetypes.zone", err)
}
