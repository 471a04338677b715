package pipeline

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/output"
	"plinth/pipeline/plan"
	"plinth/pipeline/ranking"
	"plinth/pipeline/sample"
)

// confirmedTown confirms the demo in dir with a short shortlist.
func confirmedTown(t testing.TB, dir string, workers int) (*Confirmation, []byte) {
	t.Helper()
	p, err := plan.Load(filepath.Join(dir, sample.PlanFile))
	require.NoError(t, err)
	p.Confirm.Shortlist, p.Confirm.Measures, p.Confirm.Records = 4, 2, 3
	r, err := Open(p)
	require.NoError(t, err)
	c, err := r.Confirm(context.Background(), Settings{Workers: workers, Replace: true})
	require.NoError(t, err)
	b, err := os.ReadFile(filepath.Join(dir, "out", ConfirmFolder, "confirm.csv"))
	require.NoError(t, err)
	return c, b
}

// Every building of the shortlist has a row as it stands and one for each of its
// best measures; places are those of the screening, and the bytes are the same for
// any number of workers.
func TestConfirm(t *testing.T) {
	dir := town(t, sample.Buildings)
	c, first := confirmedTown(t, dir, 1)
	_, again := confirmedTown(t, dir, 3)
	assert.True(t, bytes.Equal(first, again))

	screened(t, dir, Settings{})
	buildings := rows(t, files(t, dir)["buildings.csv"])
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
	c, _ := confirmedTown(t, town(t, 60), 2)
	for _, row := range c.Rows {
		if row.Measure == ranking.NoMeasure {
			assert.Equal(t, row.Score, row.ScoreHistory)
		}
	}
}
