package assess

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/internal/town"
	"plinth/retrofit/rating"
)

func TestRatingAllocatesNothing(t *testing.T) {
	study, err := withArchetypes(t, town.New(t, 10), "")
	require.NoError(t, err)
	best := 0
	for i := 1; i <= 10; i++ {
		a, err := study.AssessOne(context.Background(), fmt.Sprintf("CS-%05d", i))
		require.NoError(t, err)
		if a.Best() != nil {
			best++
		}
		a.Rate(rating.DM58)
		assert.Zero(t, testing.AllocsPerRun(10, func() {
			for s := range rating.NumScales {
				a.Rate(s)
			}
		}))
	}
	assert.Positive(t, best, "buildings with a measure are rated twice")
}
