package inventory

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The tables of fields, rules and uses are complete and their words unique.
func TestTables(t *testing.T) {
	seen := map[string]bool{}
	once := func(slug string) {
		assert.NotEmpty(t, slug)
		assert.False(t, seen[slug], slug)
		seen[slug] = true
	}
	for f := range Field(NumFields) {
		once("field " + f.String())
		assert.NotEmpty(t, f.Spec().Doc, f.String())
		got, ok := FieldBySlug(f.String())
		assert.True(t, ok)
		assert.Equal(t, f, got)
		if k := f.Spec().Kind; k == Number || k == Count || k == Date {
			assert.NotEmpty(t, f.Spec().Source, f.String())
			assert.Less(t, f.Spec().Min, f.Spec().Max, f.String())
		}
		words, _ := wordsOf(f)
		assert.Equal(t, f.Spec().Kind == Word, len(words) > 0, f.String())
	}
	for r := range numRules {
		once("rule " + r.String())
		assert.NotEmpty(t, r.Spec().Finding, r.String())
		assert.NotEmpty(t, r.Spec().Remedy, r.String())
	}
	for u := House; u < NumUses; u++ {
		once("use " + u.String())
		assert.Greater(t, usages[u].storey, lowStorey)
	}
	points := 0.0
	for _, l := range rubric {
		points += l.points
	}
	assert.Equal(t, 100.0, points)
}

func TestGrade(t *testing.T) {
	given := Building{}
	for f := range given.Origin {
		given.Origin[f] = Given
	}
	score, g := grade(&given)
	assert.Equal(t, uint8(100), score)
	assert.Equal(t, Grade('A'), g)

	b := given
	b.Origin[Period], b.Origin[StrengthRatio] = Absent, Absent
	_, g = grade(&b)
	assert.Equal(t, Grade('B'), g, "no report")

	b = given
	b.Origin[System] = Assumed
	_, g = grade(&b)
	assert.Equal(t, Grade('C'), g, "system assumed: 76 points, capped")

	b = given
	b.Flags = 1 << HeightStoreys
	_, g = grade(&b)
	assert.Equal(t, Grade('C'), g, "capped by the rule")

	b = Building{}
	b.Origin[FloorArea] = Given
	score, g = grade(&b)
	assert.Equal(t, uint8(10), score)
	assert.Equal(t, Grade('D'), g)
}
