package ranking

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/retrofit/consequence"
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

func TestPartsOf(t *testing.T) {
	asIs := consequence.Annual{Loss: consequence.Loss{Total: 100, Contents: 30, Dead: 0.02, Days: 2}}
	with := consequence.Annual{Loss: consequence.Loss{Total: 40, Contents: 35, Dead: 0.01, Days: 0.5}}
	p := PartsOf(&asIs, &with, 500, 50, 0.05) // factor 18.2559, tables of engineering economy
	assert.InDelta(t, 60*18.2559, p.Benefit, 0.005)
	assert.InDelta(t, -5*18.2559, p.ContentsAvoided, 0.0005, "a measure can make contents worse")
	assert.InDelta(t, 0.5, p.DeathsAvoided, 1e-12)
	assert.InDelta(t, 75, p.DaysAvoided, 1e-12)
	assert.Equal(t, 500.0, p.Cost)
}

// A weighting of one objective alone orders as that objective does; the score of a
// sum is the sum of the scores, by hand.
func TestWeighted(t *testing.T) {
	p := &Parts{Benefit: 300, Cost: 100, DeathsAvoided: 0.5, ContentsAvoided: 40, DaysAvoided: 7}
	alone, err := Weighted([]float64{0, 0, 2, 0, 0})
	require.NoError(t, err)
	assert.Equal(t, 2*LifeSafety.Score(p), alone.Score(p))
	all, err := Weighted([]float64{1, 10, 1000, 0.5, 2})
	require.NoError(t, err)
	assert.InDelta(t, 200+10*3+1000*0.5+0.5*40+2*7, all.Score(p), 1e-9)
	assert.InDelta(t, 10, all.None, 1e-9, "ten points for the 1 of money not spent")
	p.Cost = 0
	assert.True(t, math.IsNaN(all.Score(p)), "no benefit:cost, so no sum")
	for _, bad := range [][]float64{{0, 0, 0, 0, 0}, {-1, 1, 0, 0, 0}, {math.NaN(), 1, 0, 0, 0}, {math.Inf(1), 0, 0, 0, 0}} {
		_, err := Weighted(bad)
		assert.Error(t, err)
	}
}
