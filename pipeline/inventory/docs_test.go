package inventory

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/inventory/source"
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
		src := &fakeSource{source.Frame{File: inv.Path, Typed: inv.Format != "csv", Drawn: inv.Columns["lon"] == ""}}
		for _, c := range inv.Columns {
			src.Header = append(src.Header, c)
		}
		for _, c := range []string{inv.Group, inv.Explode} {
			if c != "" {
				src.Header = append(src.Header, c)
			}
		}
		_, err = newMapping(inv, src)
		assert.NoError(t, err, text)
	}
	for _, f := range []string{"csv", "geojson", "geopackage", "parquet"} {
		assert.True(t, formats[f], f)
	}
}

type fakeSource struct{ source.Frame }

func (*fakeSource) Pick([]int)                   {}
func (*fakeSource) Samples(int) []string         { return nil }
func (*fakeSource) Next(*source.Rows, int) error { return nil }
