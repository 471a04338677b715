package assess

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/internal/town"
	"plinth/pipeline/inventory"
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

// TestYearThePlaceWasClassified: a building older than the code of its place is weaker than one that
// the code covered; where nobody says so, the field is one that is worth knowing.
func TestYearThePlaceWasClassified(t *testing.T) {
	study, err := withArchetypes(t, town.New(t, 10), "")
	require.NoError(t, err)
	study.region, err = study.tables.ParseRegion("italy")
	require.NoError(t, err)
	study.zone, err = study.tables.ParseZone(study.region, "2")
	require.NoError(t, err)
	a, err := study.AssessOne(context.Background(), "CS-00006") // a concrete frame
	require.NoError(t, err)
	strength := func(year, classified int) (float64, bool) {
		b := *a.Building
		b.Year, b.YearStrengthened, b.ClassifiedYear = year, 0, classified
		one := study.NewAssessment()
		require.NoError(t, one.Assess(&b))
		asked := slices.ContainsFunc(study.UnknownFields(digestOf(one)), func(f UnknownField) bool {
			return f.Field == inventory.ClassifiedYear
		})
		return one.Archetype.StrengthRatio, asked
	}
	covered, asked := strength(1970, 1935)
	assert.False(t, asked)
	before, asked := strength(1970, 1981)
	assert.False(t, asked)
	unknown, asked := strength(1970, 0)
	assert.True(t, asked)
	assert.Less(t, before, covered)
	assert.Equal(t, covered, unknown)
	_, asked = strength(2010, 0)
	assert.False(t, asked, "since 2003 the code holds everywhere")
}

// TestKnowledgeIsForRatings: what is not known of a building makes no demand and no loss larger;
// it divides the capacity that ASCE 41-17 6.2.4 lets a rating count on.
func TestKnowledgeIsForRatings(t *testing.T) {
	assess := func(factor float64) *Assessment {
		study, err := withArchetypes(t, town.New(t, 1), "")
		require.NoError(t, err)
		study.plan.Rating.KnowledgeFactor = factor
		a, err := study.AssessOne(context.Background(), "CS-00001")
		require.NoError(t, err)
		return a
	}
	sure, doubt := assess(1), assess(0.75)
	design := sure.Study().Design()
	assert.Equal(t, sure.AsIs[design], doubt.AsIs[design])
	assert.Equal(t, sure.Before, doubt.Before)
	one, other := sure.Rate(rating.ASCE41).Before, doubt.Rate(rating.ASCE41).Before
	assert.InEpsilon(t, one.Value/0.75, other.Value, 0.06, "two figures")
	assert.Equal(t, sure.Rate(rating.NZSPercent), doubt.Rate(rating.NZSPercent))
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
