package consequence

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
	"plinth/retrofit"
)

// TestContentsAgreeWithThresholds keeps the two tables of contents against floor acceleration
// consistent: the first two steps are at the onset and the heavy loss of retrofit.Contents.
func TestContentsAgreeWithThresholds(t *testing.T) {
	for class, steps := range DefaultOptions().Contents {
		onset, heavy := retrofit.Contents(class).Thresholds()
		require.GreaterOrEqual(t, len(steps), 2)
		assert.InDelta(t, onset/hazard.Gravity, steps[0].Median, 1e-12)
		assert.InDelta(t, heavy/hazard.Gravity, steps[1].Median, 1e-12)
	}
}
