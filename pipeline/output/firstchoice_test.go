package output

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A choice is confirmed, changed or dropped; a building may fall as it stands.
func TestFirstChoices(t *testing.T) {
	row := func(id, measure string, place, history int64, drift float64) Confirmed {
		return Confirmed{BuildingID: id, Measure: measure, Place: place, PlaceHistory: history, DriftHistory: drift}
	}
	got := FirstChoices([]Confirmed{
		row("A", "none", 2, 2, math.Inf(1)), row("A", "viscous", 1, 1, 1),
		row("B", "none", 3, 3, 1), row("B", "slider", 1, 2, 1), row("B", "strengthen", 2, 1, 1),
		row("C", "none", 4, 1, 1), row("C", "yielding", 1, 2, 1),
	})
	assert.Len(t, got, 3)
	assert.True(t, got[0].Confirmed() && got[0].Falls && got[0].Measure == "viscous")
	assert.Equal(t, FirstChoice{ID: "B", Measure: "slider", Then: "strengthen"}, got[1])
	assert.Equal(t, FirstChoice{ID: "C", Measure: "yielding", Then: "none"}, got[2])
	assert.Empty(t, FirstChoices(nil))
}
