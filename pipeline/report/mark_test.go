package report

import (
	"encoding/json"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/ranking"
	"plinth/retrofit"
)

// The chart and the map draw a measure by the same lines: those of its mark, which the page
// has as data. No shape is written in the script of the map.
func TestChartAndMapDrawTheSameMarks(t *testing.T) {
	objective, err := ranking.ParseObjective("net-benefit")
	require.NoError(t, err)
	data, err := encode(invented(3), money{1, "crowns"}, objective)
	require.NoError(t, err)
	var page struct {
		Meta struct{ Marks []mark }
	}
	require.NoError(t, json.Unmarshal(data, &page))
	require.Len(t, page.Meta.Marks, len(retrofit.Kinds())+1)
	for i, k := range retrofit.Kinds() {
		assert.Equal(t, newMark(k.Slug, k.Mark), page.Meta.Marks[i], k.Slug)
	}
	assert.Equal(t, "", page.Meta.Marks[len(retrofit.Kinds())].Measure, "where no measure could be judged")
	script, err := os.ReadFile("map.js")
	require.NoError(t, err)
	for _, k := range retrofit.Kinds() {
		assert.NotContains(t, string(script), "'"+k.Slug+"'")
		assert.NotContains(t, string(script), "'"+string(k.Mark.Shape)+"'")
	}
}

// Every mark stays near its place: no point lies farther from it than 1.5 radii, and an area
// has a middle within it.
func TestMarksStandWhereTheyPoint(t *testing.T) {
	for _, m := range marks() {
		require.NotEmpty(t, m.Lines, m.Measure)
		for _, line := range m.Lines {
			require.GreaterOrEqual(t, len(line), 2)
			var low, high [2]float64
			for _, p := range line {
				for i, v := range p {
					low[i], high[i] = min(low[i], v), max(high[i], v)
				}
			}
			for i := range low {
				assert.GreaterOrEqual(t, low[i], -1.5, m.Measure)
				assert.LessOrEqual(t, high[i], 1.5, m.Measure)
				if m.Closed {
					assert.True(t, low[i] < 0 && high[i] > 0, m.Measure)
				}
			}
		}
	}
	assert.Panics(t, func() { newMark("", retrofit.Mark{Shape: "heart"}) })
}
