package assessed_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"sync/atomic"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
	"plinth/hazard/field"
	"plinth/pipeline/assess"
	"plinth/pipeline/assessed"
	"plinth/pipeline/budget"
	"plinth/pipeline/inspect"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/internal/trial"
	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
	"plinth/pipeline/plan"
	"plinth/pipeline/sample"
	"plinth/pipeline/screen"
)

// digests is the file of the digests in a folder of the demo.
const digests = "out/assessed/buildings.zst"

func screened(t testing.TB, study *assess.Study, s assess.Settings) {
	t.Helper()
	s.Replace = true
	_, err := screen.Stock(t.Context(), study, s)
	require.NoError(t, err)
}

// A counter counts the registers that are opened, which ask for the bounds of the hazard, and
// the looks at the hazard, of which every assessment has one at least.
type counter struct {
	field.Field
	registers, looks atomic.Int64
}

func (c *counter) Bound() orb.Bound {
	c.registers.Add(1)
	return c.Field.Bound()
}

func (c *counter) Lookup(lon, lat float64, class hazard.SiteClass, site *hazard.Site) error {
	c.looks.Add(1)
	return c.Field.Lookup(lon, lat, class, site)
}

// A run reads its register once, draws and all. A budget reads no register and assesses nothing.
// An inspection reads none either, and assesses each building only with other values.
func TestRegisterIsReadOnce(t *testing.T) {
	study := trial.Open(t, 60, func(p *plan.Plan) { p.Uncertainty.Draws = 19 })
	count := &counter{Field: study.Hazard()}
	study, err := study.Under(study.Plan(), count)
	require.NoError(t, err)
	screened(t, study, assess.Settings{})
	assert.EqualValues(t, 1, count.registers.Load(), "registers of a screening with draws")
	looks := count.looks.Load()
	_, err = budget.Choose(t.Context(), study, assess.Settings{})
	require.NoError(t, err)
	assert.EqualValues(t, 1, count.registers.Load(), "registers after a budget")
	assert.Equal(t, looks, count.looks.Load(), "assessments of a budget")
	_, err = inspect.Find(t.Context(), study, assess.Settings{})
	require.NoError(t, err)
	assert.EqualValues(t, 1, count.registers.Load(), "registers after an inspection")
	assert.Greater(t, count.looks.Load(), looks)
}

// A building is assessed as it stands once: without draws there are as many looks at the hazard
// as with a visit to each building alone.
func TestBuildingsAreAssessedOnce(t *testing.T) {
	study := trial.Open(t, 60, func(p *plan.Plan) { p.Uncertainty.Draws = 0 })
	count := &counter{Field: study.Hazard()}
	study, err := study.Under(study.Plan(), count)
	require.NoError(t, err)
	a := study.NewAssessment()
	_, err = study.EachBatch(t.Context(), func(batch *inventory.Batch) error {
		for i := range batch.Buildings {
			_ = a.Assess(&batch.Buildings[i]) // those that cannot be are rejects
		}
		return nil
	})
	require.NoError(t, err)
	want := count.looks.Swap(0)
	screened(t, study, assess.Settings{})
	assert.Equal(t, want, count.looks.Load())
}

// The digests are the same bytes with any number of workers and any memory, and under any change
// of a plan that Open lets pass.
func TestDigestsDependOnNothingElse(t *testing.T) {
	dir := town.New(t, 120)
	file := filepath.Join(dir, digests)
	plain := func(p *plan.Plan) { p.Uncertainty.Draws = 0 }
	screened(t, trial.OpenIn(t, dir, plain), assess.Settings{Workers: 1})
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	for name, c := range map[string]struct {
		change func(*plan.Plan)
		s      assess.Settings
	}{
		"workers":     {plain, assess.Settings{Workers: 4}},
		"memory":      {plain, assess.Settings{Memory: 1}},
		"checkpoints": {plain, assess.Settings{Checkpoint: 20}},
		"name":        {func(p *plan.Plan) { p.Name = "another" }, assess.Settings{}},
		"rating":      {func(p *plan.Plan) { p.Rating.Scales = nil }, assess.Settings{}},
		"budget":      {func(p *plan.Plan) { p.Budget = plan.Budget{Total: 1, FirstYear: 1, Years: 1} }, assess.Settings{}},
		"uncertainty": {func(p *plan.Plan) { p.Uncertainty.Draws, p.Uncertainty.Seed = 19, 5 }, assess.Settings{}},
		"confirm":     {func(p *plan.Plan) { p.Confirm.Shortlist = 1 }, assess.Settings{}},
		"output":      {func(p *plan.Plan) { p.Output.Formats = []string{"csv"} }, assess.Settings{}},
	} {
		study := trial.OpenIn(t, dir, c.change)
		_, err := assessed.Open(study, "")
		require.NoError(t, err, name)
		screened(t, study, c.s)
		got, err := os.ReadFile(file)
		require.NoError(t, err)
		require.Equal(t, want, got, name)
	}
}

// What was assessed under another plan, from other inputs or by another program is refused, and
// so are digests that were changed or are not there. The refusal says what to run.
func TestRefusals(t *testing.T) {
	appended := func(name string) func(t *testing.T, dir string) {
		return func(t *testing.T, dir string) {
			path := filepath.Join(dir, name)
			b, err := os.ReadFile(path)
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(path, append(b, '\n'), 0o600))
		}
	}
	for name, c := range map[string]struct {
		change  func(t *testing.T, dir string)
		plan    func(*plan.Plan)
		version string
		want    string
	}{
		"register": {change: appended(sample.RegisterFile), want: "other inputs: buildings.csv is not the file"},
		"hazard":   {change: appended(sample.HazardFile), want: "other inputs: hazard.csv is not the file"},
		"plan": {plan: func(p *plan.Plan) { p.Hazard.Design = 975 },
			want: "another plan: hazard.design_return_period_yr differs"},
		"objective": {plan: func(p *plan.Plan) { p.Objective.RankBy = "life-safety" },
			want: "another plan: objective.rank_by differs"},
		"version": {version: "2", want: "by version 1 of the program, and this is 2"},
		"digests": {change: appended(digests), want: "changed since they were written"},
		"missing": {change: func(t *testing.T, dir string) { require.NoError(t, os.Remove(filepath.Join(dir, digests))) },
			want: "cannot be read"},
		"nothing": {change: func(t *testing.T, dir string) {
			require.NoError(t, os.RemoveAll(filepath.Join(dir, "out", assessed.Folder)))
		}, want: "holds no assessed buildings of a screening"},
	} {
		t.Run(name, func(t *testing.T) {
			dir := town.New(t, 20)
			less := func(p *plan.Plan) { p.Uncertainty.Draws, p.Output.Formats = 0, []string{"csv"} }
			s := assess.Settings{Version: "1", Replace: true}
			screened(t, trial.OpenIn(t, dir, less), s)
			_, err := assessed.Open(trial.OpenIn(t, dir, less), "1")
			require.NoError(t, err)
			if c.change != nil {
				c.change(t, dir)
			}
			study := trial.OpenIn(t, dir, func(p *plan.Plan) {
				if less(p); c.plan != nil {
					c.plan(p)
				}
			})
			if c.version != "" {
				s.Version = c.version
			}
			_, err = budget.Choose(t.Context(), study, s)
			_, err2 := inspect.Find(t.Context(), study, s)
			for _, err := range []error{err, err2} {
				var refused *assessed.NotCurrentError
				require.ErrorAs(t, err, &refused)
				assert.ErrorContains(t, err, c.want)
				assert.Regexp(t, "run `plinth screen .*plan.toml` first$", err.Error())
			}
			assert.NoDirExists(t, filepath.Join(dir, "out", "budget"))
		})
	}
}

// Every building is shown to one worker once, and an error or the end of the context ends all.
func TestShare(t *testing.T) {
	study := trial.Open(t, 120, func(p *plan.Plan) { p.Uncertainty.Draws = 0 })
	screened(t, study, assess.Settings{})
	stock, err := assessed.Open(study, "")
	require.NoError(t, err)
	var ids []string
	require.NoError(t, stock.Each(t.Context(), func(d *assess.Digest) error {
		ids = append(ids, d.Building.ID)
		return nil
	}))
	require.EqualValues(t, stock.Counts.Out, len(ids))
	for _, workers := range []int{1, 3} {
		seen := make(chan string, 2*len(ids))
		require.NoError(t, stock.Share(t.Context(), workers, func() assessed.Visitor {
			return func(d *assess.Digest) error { seen <- d.Building.ID; return nil }
		}))
		close(seen)
		var got []string
		for id := range seen {
			got = append(got, id)
		}
		assert.ElementsMatch(t, ids, got)
		fault := errors.New("fault")
		err := stock.Share(t.Context(), workers, func() assessed.Visitor {
			return func(*assess.Digest) error { return fault }
		})
		assert.ErrorIs(t, err, fault)
		ctx, end := context.WithCancel(t.Context())
		err = stock.Share(ctx, workers, func() assessed.Visitor {
			return func(*assess.Digest) error { end(); return nil }
		})
		assert.ErrorIs(t, err, context.Canceled)
	}
}

// A file of the user in the place of the digests is left as it is, and said before the first row.
func TestFileOfTheUserStays(t *testing.T) {
	dir := town.New(t, 20)
	path := filepath.Join(dir, digests)
	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o700))
	require.NoError(t, os.WriteFile(path, []byte("mine"), 0o600))
	_, err := screen.Stock(t.Context(), trial.OpenIn(t, dir, nil), assess.Settings{Replace: true,
		Progress: func(string, int64, int64) { t.Error("it has begun") }})
	var keep *output.KeepError
	require.ErrorAs(t, err, &keep)
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "mine", string(b))
}
