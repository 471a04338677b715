package confirm

import (
	"bytes"
	"context"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/output"
	"plinth/pipeline/plan"
	"plinth/pipeline/ranking"
	"plinth/pipeline/report"
	"plinth/pipeline/sample"
	"plinth/pipeline/screen"
)

// confirmedTown confirms the demo in dir with a short shortlist and returns its rows and
// page as bytes.
func confirmedTown(t testing.TB, dir string, workers int) (*Confirmation, []byte) {
	t.Helper()
	p, err := plan.Load(filepath.Join(dir, sample.PlanFile))
	require.NoError(t, err)
	p.Confirm.Shortlist, p.Confirm.Measures, p.Confirm.Records, p.Confirm.Pictures = 4, 2, 3, 2
	study, err := assess.Open(p)
	require.NoError(t, err)
	c, err := Shortlist(context.Background(), study, assess.Settings{Workers: workers, Replace: true})
	require.NoError(t, err)
	var all []byte
	for _, name := range []string{"confirm.csv", report.ConfirmName} {
		b, err := os.ReadFile(filepath.Join(dir, "out", Folder, name))
		require.NoError(t, err)
		all = append(all, b...)
	}
	return c, all
}

// Every building of the shortlist has a row as it stands and one for each of its
// best measures; places are those of the screening, and the bytes are the same for
// any number of workers.
func TestConfirm(t *testing.T) {
	dir := town.New(t, sample.Buildings)
	c, first := confirmedTown(t, dir, 1)
	_, again := confirmedTown(t, dir, 3)
	assert.True(t, bytes.Equal(first, again))
	for id, row := range map[string]*output.Confirmed{"portrait-0": &c.Rows[0], "portrait-1": &c.Rows[3]} {
		assert.Contains(t, string(first), `id="`+id+`">`)
		assert.Contains(t, string(first), `{"id":"`+row.BuildingID+`"`, "a film of each building in pictures")
	}
	assert.NotContains(t, string(first), "portrait-2")

	study, err := assess.Open(town.Plan(t, dir, func(p *plan.Plan) { p.Uncertainty.Draws = 0 }))
	require.NoError(t, err)
	_, err = screen.Stock(t.Context(), study, assess.Settings{Replace: true})
	require.NoError(t, err)
	buildings := town.Rows(t, town.Files(t, dir)["buildings.csv"])
	seen := make(map[string][]output.Confirmed)
	for _, row := range c.Rows {
		seen[row.BuildingID] = append(seen[row.BuildingID], row)
	}
	require.Len(t, seen, 4)
	ranks := make(map[int64]bool)
	for i := range 4 {
		id, best := buildings[i]["building_id"], buildings[i]["best_measure"]
		list := seen[id]
		require.Len(t, list, 3, id)
		assert.Equal(t, ranking.NoMeasure, list[0].Measure)
		assert.Equal(t, best, list[1].Measure, "the best measure of the screening is the first that is run")
		ranks[list[0].RankHistory] = true
		for _, row := range list {
			assert.EqualValues(t, 3, row.Records)
			assert.Positive(t, row.DriftHistory)
			assert.Less(t, row.EnergyError, 1.0, "energy closes within 1 %")
			assert.GreaterOrEqual(t, row.Place, int64(1))
		}
	}
	assert.Len(t, ranks, 4, "every place of the shortlist is taken once")
}

// A measure with nothing to scale leaves the score where the screening had it.
func TestRatioOfNothingIsOne(t *testing.T) {
	c, _ := confirmedTown(t, town.New(t, 60), 2)
	for _, row := range c.Rows {
		if row.Measure == ranking.NoMeasure {
			assert.Equal(t, row.Score, row.ScoreHistory)
		}
	}
}

// A portrait is a building as it stands and with at most two measures that move
// differently, all under one record.
func TestSubject(t *testing.T) {
	p, err := plan.Load(filepath.Join(town.New(t, sample.Buildings), sample.PlanFile))
	require.NoError(t, err)
	p.Confirm.Records = 3
	study, err := assess.Open(p)
	require.NoError(t, err)
	suites, err := openSuites(study)
	require.NoError(t, err)
	list, _, err := shortlist(context.Background(), study, assess.Settings{}, t.TempDir(), 3)
	require.NoError(t, err)
	w := historyRunner{study: study, a: study.NewAssessment(), suites: suites}
	for i := range list {
		s, err := w.subject(&list[i])
		require.NoError(t, err)
		require.LessOrEqual(t, len(s.Stands), 1+portraitMeasures)
		require.GreaterOrEqual(t, len(s.Stands), 2)
		assert.Equal(t, ranking.NoMeasure, s.Stands[0].Measure)
		assert.NotEmpty(t, s.Record)
		for k := range s.Stands {
			st := &s.Stands[k]
			assert.InDeltaSlice(t, s.Stands[0].Series.Ground[:200], st.Series.Ground[:200], 1e-9, "one record")
			assert.False(t, k > 0 && moveAlike(st, &s.Stands[k-1]))
		}
		h := &s.Stands[0].Check.History
		assert.LessOrEqual(t, math.Abs(math.Log(s.Stands[0].Peaks.DriftRatio/h.DriftRatio.Median)),
			h.DriftRatio.Dispersion*1.2, "the record is near the median")
	}
}

// BenchmarkConfirm is whole confirmations, screening and pages included, at three levels of
// the hazard: 100 buildings of a stock as they stand and with 3 measures, under 11 records.
func BenchmarkConfirm(b *testing.B) {
	const buildings, records = 100, 11
	p, err := plan.Load(filepath.Join(town.New(b, sample.Buildings), sample.PlanFile))
	require.NoError(b, err)
	p.Confirm.Shortlist, p.Confirm.Measures, p.Confirm.Records = buildings, 3, records
	runs := 0
	b.ReportAllocs()
	for b.Loop() {
		for _, years := range []float64{225, 475, 2475} {
			p.Hazard.Design = years
			study, err := assess.Open(p)
			require.NoError(b, err)
			c, err := Shortlist(context.Background(), study, assess.Settings{Replace: true})
			require.NoError(b, err)
			runs += len(c.Rows) * records
		}
	}
	b.ReportMetric(float64(runs)/float64(b.N), "histories/op")
	b.ReportMetric(b.Elapsed().Seconds()*1000/float64(b.N*3*buildings), "ms/building")
}
