package fidelity

import (
	"bytes"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/retrofit/consequence"
	"plinth/retrofit/history"
)

// measuredScatter returns the scatter in percent by measure, quantity and class of the
// page: the larger of the validation and the irregular grid.
func measuredScatter(t *testing.T) map[[3]string]float64 {
	text, err := os.ReadFile("../../../docs/fidelity.md")
	require.NoError(t, err)
	out := map[[3]string]float64{}
	for _, grid := range []string{"## Ratios, validation grid", "## Ratios, irregular grid"} {
		_, after, found := bytes.Cut(text, []byte(grid))
		require.True(t, found, grid)
		part, _, _ := bytes.Cut(after, []byte("\nOf "))
		for _, line := range strings.Split(string(part), "\n") {
			cells := strings.Split(line, " | ")
			if len(cells) < 9 || cells[0] == "| measure" || cells[0] == "| ---" {
				continue
			}
			scatter, err := strconv.ParseFloat(cells[5], 64)
			require.NoError(t, err, line)
			key := [3]string{strings.TrimPrefix(cells[0], "| "), cells[1], cells[2]}
			out[key] = max(out[key], scatter)
		}
	}
	return out
}

// TestBandsAreWhatIsMeasured checks that the bands of history and of the loss tables equal the
// scatter in docs/fidelity.md, to its whole percents.
func TestBandsAreWhatIsMeasured(t *testing.T) {
	scatter := measuredScatter(t)
	percent := func(ln float64) float64 { return math.Round(100 * ln) }
	checked := 0
	for k := range history.Kinds {
		for q := range history.Quantities {
			for c, ratio := range map[Class]float64{All: 1.5, Elastic: 1, Yielded: 3} {
				band, ok := history.Band(k, q, ratio)
				if !ok {
					continue
				}
				assert.Equal(t, scatter[[3]string{k.String(), q.String(), c.String()}], percent(band),
					"%s, %s, %s", k, q, c)
				checked++
			}
		}
	}
	assert.Equal(t, 66, checked)
	for measure, b := range consequence.DefaultOptions().Bands {
		k, ok := map[string]history.Kind{
			"none": history.AsIs, "strengthen": history.Strengthened, "yielding": history.Yielding,
			"viscous-linear": history.ViscousLinear,
			"viscous":        history.ViscousNonlinear, "tuned-mass": history.TunedMass,
			"lead-rubber": history.LeadRubber, "slider": history.Slider,
		}[measure]
		if !ok {
			continue // judgement
		}
		for q, band := range map[history.Quantity]float64{history.StoreyDrift: b.Drift,
			history.FloorAccel: b.Accel, history.Displacement: b.Displacement} {
			want := max(scatter[[3]string{k.String(), q.String(), All.String()}],
				scatter[[3]string{k.String(), q.String(), Yielded.String()}])
			assert.Equal(t, want, percent(band), "%s: %s", measure, q)
		}
	}
}
