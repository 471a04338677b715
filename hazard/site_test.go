package hazard

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestParseSiteClass(t *testing.T) {
	for _, s := range []string{"A", "b", "C", "d", "E", "f"} {
		c, err := ParseSiteClass(s)
		require.NoError(t, err)
		assert.True(t, strings.EqualFold(s, c.String()))
	}
	for _, s := range []string{"", "G", "AB", "1", "@", "a ", "é"} {
		_, err := ParseSiteClass(s)
		assert.ErrorContains(t, err, "one letter from A to F", s)
	}
	assert.Empty(t, SiteClass(0).String())
}

func TestStatusWords(t *testing.T) {
	assert.Empty(t, Status(0).Words())
	assert.Equal(t, []string{"site class assumed"}, AssumedClass.Words())
	all := BelowRange | AboveRange | PowerLaw | StudyNeeded | AssumedClass | NearestNode |
		SlopeUnknown | FarBeyond
	assert.Len(t, all.Words(), 8, "every flag has its words")
}

func TestSpectrumPanicsOnMisuse(t *testing.T) {
	var s Spectrum
	assert.Zero(t, s.Sa(1), "the zero value is no spectrum")
	assert.Panics(t, func() { NewAxis([]float64{1, 1}) })
	assert.Panics(t, func() { NewAxis([]float64{0}) })
	assert.Panics(t, func() { s.Set(NewAxis([]float64{1}), 0.1, nil) })
	assert.Panics(t, func() { s.SetNodes(0.1, 0.1, 0.5) })
	assert.Panics(t, func() { s.SetNodes(0.1, 0.1, 0.5, Node{1, 1}, Node{1, 0.5}) })
	assert.Panics(t, func() { s.SetNodes(0.1, 0.1, 0.5, Node{1, 0}) })
}
