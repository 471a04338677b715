package keep

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestHistory(t *testing.T) {
	path := filepath.Join(t.TempDir(), "page.md")
	none, err := History(path)
	require.NoError(t, err)
	assert.Equal(t, "<!-- history -->\n<!-- end of history -->\n", none, "a new page has an empty history")

	const history = "<!-- history -->\n\n## Before\n\nSlow.\n\n<!-- end of history -->\n"
	require.NoError(t, os.WriteFile(path, []byte("# Page\n\n"+history+"\n## After\n"), 0o644))
	got, err := History(path)
	require.NoError(t, err)
	assert.Equal(t, history, got)
}

// A page whose markers were removed is refused rather than written without its history.
func TestHistoryWithoutMarkers(t *testing.T) {
	path := filepath.Join(t.TempDir(), "page.md")
	for _, page := range []string{"# Page\n", "# Page\n<!-- history -->\nSlow.\n", "Slow.\n<!-- end of history -->\n"} {
		require.NoError(t, os.WriteFile(path, []byte(page), 0o644))
		_, err := History(path)
		assert.ErrorContains(t, err, path)
	}
}

// The pages that commands rewrite have their markers.
func TestPagesOfTheManual(t *testing.T) {
	for _, name := range []string{"performance.md", "fidelity.md"} {
		history, err := History(filepath.Join("..", "..", "..", "docs", name))
		require.NoError(t, err)
		assert.Contains(t, history, "\n## ", name)
	}
}
