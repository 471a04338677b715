package output

import (
	"encoding/xml"
	"math"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every column that a style names is one of the table, one theme is ticked, every rule has a symbol, and
// the foremost lie on top.
func TestThemes(t *testing.T) {
	themesOf(t, &Buildings, []string{"Priority", "Storey drift", "Annual loss", "Look now", "Data grade", "First measure"})
	themesOf(t, &Areas, []string{"Annual loss", "Look now", "Median drift", "Net benefit of what pays", "Data of grade C or D"})
}

func themesOf[R any](t *testing.T, table *Table[R], want []string) {
	var b strings.Builder
	require.NoError(t, WriteThemes(&b, table, About{Currency: "CRD"}))
	require.Contains(t, b.String(), Caution)
	var q qml
	d := xml.NewDecoder(strings.NewReader(b.String()))
	d.Strict = true
	require.NoError(t, d.Decode(&q))
	for _, a := range q.Aliases {
		assert.NotNil(t, table.column(a.Field), a.Field)
	}
	require.Len(t, q.Aliases, len(table.Columns))
	names := regexp.MustCompile(`"([a-z0-9_]+)"`)
	texts := []string{q.MapTip, q.Preview, q.Labeling.Settings.Text.Field}
	for _, o := range q.Renderer.Order {
		texts = append(texts, o.Expression)
		assert.Zero(t, o.Ascending, "the first rank is drawn last")
	}
	symbols := map[string]bool{}
	for _, s := range q.Renderer.Symbols {
		symbols[s.Name] = true
	}
	var titles []string
	for i, theme := range q.Renderer.Rules.Rules {
		titles = append(titles, theme.Label)
		assert.Equal(t, i > 0, theme.Off == "0", "%s: the first theme alone is ticked", theme.Label)
		for k, rule := range theme.Rules {
			assert.True(t, symbols[rule.Symbol], rule.Label)
			texts = append(texts, rule.Filter)
			assert.Equal(t, k == len(theme.Rules)-1 && rule.Filter == "ELSE", rule.Filter == "ELSE", "what is left comes last")
		}
	}
	assert.Equal(t, want, titles)
	for _, text := range texts {
		for _, name := range names.FindAllStringSubmatch(text, -1) {
			assert.NotNil(t, table.column(name[1]), "%s in %s", name[1], text)
		}
	}
}

// QGIS evaluates every condition, and each theme draws each row once.
func TestThemesInQGIS(t *testing.T) {
	const python = "/usr/bin/python3" // of Debian, for which its python3-qgis is
	if testing.Short() || exec.Command(python, "-c", "import qgis.core").Run() != nil {
		t.Skip("needs QGIS: apt-get install --no-install-recommends qgis python3-qgis")
	}
	path := filepath.Join(writeJoined(t), "buildings.gpkg")
	for layer, themes := range map[string]string{"buildings": "6 themes 1 ticked", "areas": "5 themes 1 ticked"} {
		out, err := exec.Command(python, "../../testdata/readers/themes.py", path, layer).CombinedOutput()
		require.NoError(t, err, string(out))
		require.Contains(t, string(out), themes)
		require.Contains(t, string(out), "\n0 problems", string(out))
	}
}

// A class of ranks holds its share of any stock, and no stock is without a first.
func TestPriorities(t *testing.T) {
	for _, n := range []int64{1, 2, 5, 19, 20, 100, 1000, 12345} {
		counts := map[string]int64{}
		for rank := int64(1); rank <= n; rank++ {
			counts[priorityOf(rank, n)]++
		}
		sum := int64(0)
		for _, p := range priorities {
			sum += counts[p.word]
			assert.InDelta(t, p.share*float64(n), float64(sum), 0.9999, "%s of %d", p.word, n)
		}
		assert.Equal(t, priorities[0].word, priorityOf(1, n))
	}
}

func TestReason(t *testing.T) {
	var b Building
	Buildings.Blank(&b)
	b.ID, b.Name, b.Rank, b.Currency = "7", "Hall", 2, "CRD"
	b.DesignReturnPeriod = 475
	b.Describe(200, nil)
	assert.Equal(t, []string{"7 Hall", "first 1 %"}, []string{b.Label, b.Priority})
	assert.Equal(t, "Storey drift unknown and floor acceleration unknown in shaking of 475 years; expected loss "+
		"unknown a year. No measure could be judged.", b.Reason)
	b.Drift, b.FloorAccel, b.AnnualLoss, b.DataGrade = 2.149, 0.4512, 12345, "D"
	b.Best, b.BestCostLikely, b.BestNetBenefit, b.LookNow = "viscous", 1.26e6, -98765, "it may collapse"
	b.Describe(200, nil)
	assert.Contains(t, b.Reason, "It may collapse. Storey drift 2.1 % and floor acceleration "+
		"0.45 g in shaking of 475 years; expected loss 12,000 CRD a year. First measure: ")
	assert.Contains(t, b.Reason, ", about 1,300,000 CRD, net benefit -99,000 CRD. Data grade D: find out more first.")
	b.Best, b.BestNetBenefit = noMeasure, math.NaN()
	b.Describe(200, nil)
	assert.Contains(t, b.Reason, "No measure is worth more than it costs")
}
