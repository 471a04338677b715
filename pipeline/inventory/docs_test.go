package inventory

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/plan"
)

// Every plan on the manual's page is one that the program takes, and maps columns
// to fields that there are, in units and words that there are.
func TestPlansOfThePage(t *testing.T) {
	page, err := os.ReadFile(filepath.Join("..", "..", "docs", "methods", "register.md"))
	require.NoError(t, err)
	formats := make(map[string]bool)
	for _, block := range strings.Split(string(page), "```toml\n")[1:] {
		text, _, ok := strings.Cut(block, "```")
		require.True(t, ok)
		p, err := plan.Parse("plan.toml", []byte(text+anyHazard))
		require.NoError(t, err, text)
		inv := &p.Inventory
		formats[inv.Format] = true
		src := &fakeSource{frame{file: inv.Path, typed: inv.Format != "csv", drawn: inv.Columns["lon"] == ""}}
		for _, c := range inv.Columns {
			src.header = append(src.header, c)
		}
		for _, c := range []string{inv.Group, inv.Explode} {
			if c != "" {
				src.header = append(src.header, c)
			}
		}
		_, err = newMapping(inv, src)
		assert.NoError(t, err, text)
	}
	for _, f := range []string{"csv", "geojson", "geopackage", "parquet"} {
		assert.True(t, formats[f], f)
	}
}

type fakeSource struct{ frame }

func (*fakeSource) pick([]int)           {}
func (*fakeSource) samples(int) []string { return nil }
func (*fakeSource) read(*Raw, int) error { return nil }
