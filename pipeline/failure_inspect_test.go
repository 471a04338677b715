package pipeline

import (
	"bytes"
	"os"
	"path/filepath"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/output"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is worth knowing of a building that fails away from what is assumed cannot be
// said, and the search says so.
func TestFailureInInspect(t *testing.T) {
	dir := town.New(t, 40)
	r := faultyAway(t, dir, faulty, nil)
	search, err := r.Inspect(t.Context(), Settings{Replace: true})
	require.NoError(t, err)
	assert.Equal(t, []string{faulty}, search.Failed)
	for _, row := range search.Rows {
		assert.NotEqual(t, faulty, row.ID)
	}
	assert.NotEmpty(t, search.Rows)
	var text bytes.Buffer
	require.NoError(t, search.Write(&text))
	assert.Contains(t, text.String(), faulty)
	manifest, err := os.ReadFile(filepath.Join(dir, "out", "inspect", output.ManifestName))
	require.NoError(t, err)
	assert.Contains(t, string(manifest), faulty)
}
