package inspect

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/internal/trial"
	"plinth/pipeline/output"
)

// What is worth knowing of a building that fails away from what is assumed cannot be
// said, and the search says so.
func TestFailureInInspect(t *testing.T) {
	dir := town.New(t, 40)
	study := screened(t, trial.FaultyAway(t, dir, trial.FaultyID, nil))
	search, err := Find(t.Context(), study, assess.Settings{Replace: true})
	require.NoError(t, err)
	assert.Equal(t, []string{trial.FaultyID}, search.Failed)
	b, err := os.ReadFile(filepath.Join(dir, "out", "inspect", "inspect.csv"))
	require.NoError(t, err)
	rows := town.Rows(t, b)
	for _, row := range rows {
		assert.NotEqual(t, trial.FaultyID, row["building_id"])
	}
	assert.NotEmpty(t, rows)
	var text bytes.Buffer
	require.NoError(t, search.Write(&text))
	assert.Contains(t, text.String(), trial.FaultyID)
	manifest, err := os.ReadFile(filepath.Join(dir, "out", "inspect", output.ManifestName))
	require.NoError(t, err)
	assert.Contains(t, string(manifest), trial.FaultyID)
}
