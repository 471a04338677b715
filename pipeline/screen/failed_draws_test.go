package screen

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/internal/trial"
	"plinth/pipeline/output"
	"plinth/pipeline/plan"
)

// A building that is screened and then fails away from its medians keeps its row. It has
// no interval of ranks, and row and manifest say why; the others have theirs.
func TestFailureInDraws(t *testing.T) {
	dir := town.New(t, 40)
	study := trial.FaultyAway(t, dir, trial.FaultyID, func(p *plan.Plan) { p.Uncertainty.Draws = 19 })
	res, err := Stock(t.Context(), study, assess.Settings{Replace: true})
	require.NoError(t, err)
	require.Equal(t, res.Summary.Counts.In, res.Summary.Counts.Out+res.Summary.Counts.Rejected)
	got := town.Files(t, dir)
	for _, row := range town.Rows(t, got["buildings.csv"]) {
		failed := row["building_id"] == trial.FaultyID
		assert.Equal(t, failed, row["rank_low"] == "", row["building_id"])
		assert.Equal(t, failed, strings.Contains(row["solver_status"], "no interval of ranks"),
			row["building_id"])
	}
	var m output.Manifest
	require.NoError(t, json.Unmarshal(got[output.ManifestName], &m))
	assert.Contains(t, m.Notes[len(m.Notes)-1], "Of 1 building there is no interval of ranks")
	assert.Contains(t, m.Notes[len(m.Notes)-1], trial.FaultyID)
}
