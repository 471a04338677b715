package history

import (
	"math"
	"sort"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/hazard/motion"
	"plinth/retrofit/demand"
)

// TestWeakStiffBuildings compares the roof of weak buildings of short period whose hardening ends,
// masonry among them, far beyond the range of strength ratios, by both methods with P-delta, under
// records that fitted nothing: within the stated band in the median and at twice the band in all but
// one in ten. It is where a ratio without the end of hardening is half or less, and one that grows
// without a limit 1.6 times too high.
func TestWeakStiffBuildings(t *testing.T) {
	settings := motion.DefaultSettings()
	settings.Seed = 909
	lib, err := motion.NewLibrary(settings, 1)
	require.NoError(t, err)
	var sp hazard.Spectrum
	require.NoError(t, hazard.Eurocode8Type1.Elastic(&sp, 'B', 0.3))
	suite, err := lib.Suite(&sp)
	require.NoError(t, err)
	suite.Target = suite.Mean
	band, _ := Band(AsIs, StoreyDrift, 3)

	var ratios []float64
	for _, n := range []int{1, 2, 3} {
		for _, period := range []float64{0.12, 0.18, 0.26, 0.36} {
			for _, strength := range []float64{0.06, 0.1, 0.16, 0.25} {
				for _, hardened := range []float64{1.1, 1.25} {
					a := archetypes.Archetype{Storeys: n, Height: 3 * float64(n), Weight: 2e6 * float64(n),
						Period: period, StrengthRatio: strength, PostYield: 0.03, Hardened: hardened, Degrading: 1}
					var st archetypes.Stick
					a.Build(&st)
					var c Confirmer
					check := c.Confirm(&st, suite, []Device{nil}, Options{PDelta: true}, nil)[0]
					if check.Spectral.Status&demand.CollapseCounted != 0 || check.History.Collapsed > 0 {
						continue
					}
					ratios = append(ratios, math.Log(check.Compared[StoreyDrift].Ratio))
				}
			}
		}
	}
	require.Greater(t, len(ratios), 60)
	sort.Float64s(ratios)
	assert.InDelta(t, 0, ratios[len(ratios)/2], band, "median %.2f", math.Exp(ratios[len(ratios)/2]))
	beyond := 0
	for _, r := range ratios {
		if math.Abs(r) > 2*band {
			beyond++
		}
	}
	assert.LessOrEqual(t, beyond, len(ratios)/10, "%d of %d, from %.2f to %.2f", beyond, len(ratios),
		math.Exp(ratios[0]), math.Exp(ratios[len(ratios)-1]))
}
