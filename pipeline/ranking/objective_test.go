package ranking

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestObjectives(t *testing.T) {
	p := Parts{Benefit: 300, Cost: 200, DeathsAvoided: 0.5, ContentsAvoided: 40, DaysAvoided: 12}
	want := map[string]struct{ score, scale, none float64 }{
		"net-benefit":  {100, 300, 0},
		"benefit-cost": {1.5, 1.5, 1},
		"life-safety":  {0.5, 0.5, 0},
		"contents":     {40, 40, 0},
		"continuity":   {12, 12, 0},
	}
	require.Len(t, Objectives(), len(want))
	for slug, w := range want {
		o, err := ParseObjective(slug)
		require.NoError(t, err)
		assert.InDelta(t, w.score, o.Score(&p), 1e-12, slug)
		assert.InDelta(t, w.scale, o.Scale(&p), 1e-12, slug)
		assert.Equal(t, w.none, o.None, slug)
		assert.NotEmpty(t, o.Unit)
		assert.NotEmpty(t, o.Text)
	}
	_, err := ParseObjective("fame")
	assert.EqualError(t, err, `objective "fame" is not known: want one of net-benefit, benefit-cost, life-safety, contents, continuity`)
	assert.True(t, math.IsNaN(BenefitCost.Score(&Parts{Benefit: 1})), "nothing is free")
}

// TestNothingScoresNothing holds each objective's score for doing nothing against
// its formula: a measure that does nothing for next to nothing scores no more.
func TestNothingScoresNothing(t *testing.T) {
	for _, o := range Objectives() {
		assert.LessOrEqual(t, o.Score(&Parts{Cost: 1e-9}), o.None, o.Slug)
	}
}
