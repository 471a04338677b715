package motion

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
)

// TestFitScaled checks that the mean ln ratio is nil and that only the scale changed.
func TestFitScaled(t *testing.T) {
	r := elCentro(t)
	sp := ground(t, 'B', 0.3)
	s, err := Fit([]Record{*r}, sp, Scaled, 0.2, 2, 0)
	require.NoError(t, err)
	sum := 0.0
	for i := range 30 {
		p := 0.2 * math.Pow(10, float64(i)/29)
		sum += math.Log(s.Records[0].Sa(p, 0.05) / sp.Sa(p))
	}
	assert.InDelta(t, 0, sum, 1e-9)
	assert.Same(t, &r.Accel[0], &s.Records[0].Accel[0])
}

// TestFitMatched checks that the real record comes within 10 % of the target, rms, from
// 0.1 s (its step is 0.02 s) to 4 s, and keeps its length of shaking.
func TestFitMatched(t *testing.T) {
	r := elCentro(t)
	sp := ground(t, 'B', 0.3)
	s, err := Fit([]Record{*r}, sp, Matched, 0.2, 2, 12)
	require.NoError(t, err)
	got := &s.Records[0]
	squares := 0.0
	for i := range 30 {
		p := 0.1 * math.Pow(40, float64(i)/29)
		l := math.Log(got.Sa(p, 0.05) / sp.Sa(p))
		squares += l * l / 30
	}
	assert.Less(t, math.Sqrt(squares), 0.10)
	assert.InEpsilon(t, r.Significant(0.05, 0.95), got.Significant(0.05, 0.95), 0.25)
}

func TestFitThatCannotBe(t *testing.T) {
	sp := ground(t, 'B', 0.3)
	_, err := Fit(nil, sp, Scaled, 0.2, 2, 0)
	assert.ErrorIs(t, err, ErrNoRecords)
	r := noise(100, 0.01)
	_, err = Fit([]Record{*r}, sp, Scaled, 2, 1, 0)
	assert.ErrorContains(t, err, "ascend")
	_, err = Fit([]Record{*r}, &hazard.Spectrum{}, Matched, 0.2, 1, 1)
	assert.ErrorContains(t, err, "positive")
	r.Scale = 0
	_, err = Fit([]Record{*r}, sp, Scaled, 0.2, 2, 0)
	assert.ErrorContains(t, err, "no response")
}
