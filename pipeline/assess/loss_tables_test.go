package assess

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/internal/town"
	"plinth/pipeline/plan"
	"plinth/pipeline/sample"
	"plinth/retrofit"
)

// A run refuses an owner's table of dispersions that lacks one of its measures: without one
// the measure would look the better. The message says where the plan names the table.
func TestLossTablesMustKnowTheMeasures(t *testing.T) {
	table, err := os.ReadFile(filepath.Join("..", "..", "retrofit", "consequence", "tables", "bands.csv"))
	require.NoError(t, err)
	dir := town.New(t, 5)
	bands := filepath.Join(dir, "tables", "bands.csv")
	require.NoError(t, os.Mkdir(filepath.Dir(bands), 0o700))
	open := func(without, instead string, use ...string) error {
		lines := strings.SplitAfter(string(table), "\n")
		i := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, without+",") })
		require.Positive(t, i)
		lines[i] = instead
		require.NoError(t, os.WriteFile(bands, []byte(strings.Join(lines, "")), 0o600))
		p, err := plan.Load(filepath.Join(dir, sample.PlanFile))
		require.NoError(t, err)
		p.Consequence.Tables, p.Measures.Use = filepath.Dir(bands), append(p.Measures.Use[:0:0], use...)
		_, err = Open(p)
		return err
	}
	assert.NoError(t, open("lead-rubber-strengthen", "", "viscous"))
	for _, k := range retrofit.Kinds() {
		for _, band := range k.AllBands() {
			use := k.Slug
			if k.Options == nil { // as it stands is in every run
				use = "viscous"
			}
			err := open(band, "", use)
			want := "consequence.tables: consequence table bands.csv: no row " + band + "; copy it from the default table"
			assert.ErrorContains(t, err, want)
		}
	}
	err = open("slider", "slidder,0.1,0.1,0.1,ours\n", "viscous")
	assert.ErrorContains(t, err, `bands.csv:11: column measure: "slidder": want one of none, lead-rubber`)
}

// The demo tries every measure there is.
func TestDemoTriesEveryMeasure(t *testing.T) {
	p, err := plan.Load(filepath.Join(town.New(t, 1), sample.PlanFile))
	require.NoError(t, err)
	var all []string
	for _, k := range retrofit.Kinds() {
		if k.Options != nil {
			all = append(all, k.Slug)
		}
	}
	assert.Equal(t, all, p.Measures.Use)
}
