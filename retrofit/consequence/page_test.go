package consequence

import (
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestMethodPageShowsTheTables keeps the numbers of the method page to those of
// the tables.
func TestMethodPageShowsTheTables(t *testing.T) {
	data, err := os.ReadFile("../../docs/methods/consequence.md")
	require.NoError(t, err)
	page := string(data)
	o := DefaultOptions()
	for measure, b := range o.Bands {
		cells := fmt.Sprintf("%.2f | %.2f |", b.Drift, b.Accel)
		if b.Displacement > 0 {
			cells += fmt.Sprintf(" %.2f |", b.Displacement)
		}
		assert.Regexp(t, `(?m)^\| `+measure+`( \([^|]*\))? \| `+cells, page)
	}
	for i, s := range o.States[:Collapse] {
		repair := []string{"0.145", "0.305", "0.80"}[i]
		assert.Contains(t, page, fmt.Sprintf("| %s | %.0f | %v | %v | %v |", repair, s.Days, s.Dead,
			s.Serious, s.Minor))
		assert.InDelta(t, s.LossRatio, []float64{0.145, 0.305, 0.80}[i], 1e-12)
	}
	for _, steps := range append([][]Step{o.DriftFitOut, o.AccelFitOut}, o.Contents[:]...) {
		format, medians, losses := "%.2f", "", ""
		if steps[0].Median < 0.1 {
			format = "%.3f"
		}
		for i, s := range steps {
			if i > 0 {
				medians, losses = medians+", ", losses+", "
			}
			medians += fmt.Sprintf(format, s.Median)
			losses += fmt.Sprintf("%.2f", s.Loss)
		}
		assert.Contains(t, page, "| "+medians+" | "+losses+" |")
	}
}
