package measured

import (
	"fmt"
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestFitFindsWhatCountsWereMadeFrom: expected counts of a known curve give the curve back.
func TestFitFindsWhatCountsWereMadeFrom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		median, beta := rapid.Float64Range(0.15, 1.5), rapid.Float64Range(0.3, 1.2)
		f := fragility{median.Draw(t, "median"), beta.Draw(t, "beta")}
		var bands []band
		for _, x := range shakings {
			n := float64(rapid.IntRange(50, 5000).Draw(t, "n"))
			bands = append(bands, band{x, n, n * f.at(x)})
		}
		got := fit(bands)
		assert.InEpsilon(t, f.median, got.median, 1e-4)
		assert.InEpsilon(t, f.beta, got.beta, 1e-4)
	})
}

// TestFitOfTwoBands is a case by hand: 16 of 100 at 0.2 g and 50 of 100 at 0.4 g. Two bands
// are met exactly, so that the median is 0.4 and the dispersion ln(2)/0.99446, the point
// of the normal distribution below which 84 in 100 lie (Abramowitz and Stegun table 26.1).
func TestFitOfTwoBands(t *testing.T) {
	got := fit([]band{{0.2, 100, 16}, {0.4, 100, 50}})
	assert.InEpsilon(t, 0.4, got.median, 1e-5)
	assert.InEpsilon(t, math.Log(2)/0.99446, got.beta, 1e-5)
}

// TestFitOfTheSurvey: the curves of the survey that fragilities.csv states, fitted to the
// same counts by another program and printed to two or three digits, come out here.
func TestFitOfTheSurvey(t *testing.T) {
	stocks, err := readSurvey(folder)
	require.NoError(t, err)
	of := map[string]*stock{}
	for i := range stocks {
		of[stocks[i].name()] = &stocks[i]
	}
	rows, err := readRows(folder, "damage/fragilities.csv", []string{"class", "storeys", "grade", "basis"},
		[]string{"median", "beta"})
	require.NoError(t, err)
	n := 0
	for i := range rows {
		r := &rows[i]
		if r.text("basis") != "computed here from data" {
			continue
		}
		n++
		s := of[r.text("class")+", "+r.text("storeys")]
		require.NotNil(t, s, "line %d", r.line)
		grade, err := strconv.Atoi(r.text("grade")[1:])
		require.NoError(t, err)
		got := s.fit(grade)
		name := fmt.Sprintf("%s D%d", s.name(), grade)
		assert.InEpsilon(t, r.number("median"), got.median, 0.01, name)
		assert.InDelta(t, r.number("beta"), got.beta, 0.011, name)
	}
	assert.Equal(t, 5*len(stocks), n)
}

// TestFitOfNothing: none or all in every band has no curve.
func TestFitOfNothing(t *testing.T) {
	for _, reached := range []float64{0, 100} {
		got := fit([]band{{0.2, 100, reached}, {0.4, 100, reached}, {0.8, 100, reached}})
		assert.True(t, math.IsNaN(got.median) && math.IsNaN(got.beta))
	}
}

// TestMeanOf is a case by hand: ratios 1/2, 1 and 2 have the geometric mean 1 and an
// ln-sd of ln 2; one ratio has no scatter, none has no mean.
func TestMeanOf(t *testing.T) {
	m := meanOf([]float64{0.5, 1, 2})
	assert.InDelta(t, 1, m.mean, 1e-12)
	assert.InDelta(t, math.Ln2, m.sd, 1e-12)
	one := meanOf([]float64{1.3})
	assert.InDelta(t, 1.3, one.mean, 1e-12)
	assert.True(t, math.IsNaN(one.sd))
	assert.True(t, math.IsNaN(meanOf(nil).mean))
}

func TestVerdict(t *testing.T) {
	assert.Equal(t, "met", floorAim.verdict(0.8))
	assert.Equal(t, "**missed**", floorAim.verdict(0.79))
	assert.Equal(t, "-", floorAim.verdict(math.NaN()))
	assert.Equal(t, "-", noAim.verdict(1))
}
