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

// The levels of ASCE 41 of a demo building rise as 2.4.1 has them, and a plan that names one is rated
// at it: BSE-1E, 20 % in 50 years, lies near 225 years but for the direction of the largest response.
func TestLevelsOfASCE41(t *testing.T) {
	study, err := withArchetypes(t, town.New(t, 10), "")
	require.NoError(t, err)
	a, err := study.AssessOne(context.Background(), "CS-00001")
	require.NoError(t, err)
	l, err := a.ASCE41Levels()
	require.NoError(t, err)
	assert.LessOrEqual(t, l[0].Sa, l[1].Sa)
	assert.LessOrEqual(t, l[1].Sa, l[3].Sa)
	assert.LessOrEqual(t, l[0].Sa, l[2].Sa)
	assert.InEpsilon(t, l[3].Sa*2/3, l[2].Sa, 1e-9)
	worst := 0.0
	for i, level := range l {
		study.plan.Rating.ASCE41Level = level.Name
		r := a.Rate(rating.ASCE41).Before
		assert.Equal(t, a.AtSa(level.Sa, a.AsIs, &a.Exposure), r)
		if i < 2 || i == 3 {
			assert.GreaterOrEqual(t, r.Value, worst, level.Name)
			worst = r.Value
		}
	}
	study.plan.Rating.ASCE41Level = ""
	design := a.Site.Spectra[study.design].Sa(a.Archetype.Period)
	assert.Equal(t, a.Rate(rating.ASCE41).Before, a.AtSa(design, a.AsIs, &a.Exposure), "at the design level itself")
	assert.Empty(t, a.AtSa(100, a.AsIs, &a.Exposure).Band, "beyond the levels")
}
