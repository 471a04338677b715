package hazard

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestASCE41Levels(t *testing.T) {
	// USGS design web service, ASCE 41-13, class B, public test fixtures: printed
	// to 0.001 g.
	for _, c := range []struct {
		place                      string
		bse2n, bse1n, bse2e, bse1e SpectralPair
	}{
		{"Century City", SpectralPair{2.194, 0.815}, SpectralPair{1.463, 0.543}, SpectralPair{1.599, 0.572}, SpectralPair{0.778, 0.281}},
		{"Memphis", SpectralPair{1.010, 0.351}, SpectralPair{0.673, 0.234}, SpectralPair{0.712, 0.235}, SpectralPair{0.131, 0.036}},
		{"Boise", SpectralPair{0.311, 0.106}, SpectralPair{0.208, 0.071}, SpectralPair{0.213, 0.074}, SpectralPair{0.099, 0.036}},
	} {
		l, err := ASCE41(c.bse2n, c.bse2e, c.bse1e)
		require.NoError(t, err)
		assert.Equal(t, c.bse2n, l.BSE2N)
		// 8.4e-4: half of the last digit of the one and two thirds of it of the other.
		assert.InDelta(t, c.bse1n.SXS, l.BSE1N.SXS, 8.4e-4, c.place)
		assert.InDelta(t, c.bse1n.SX1, l.BSE1N.SX1, 8.4e-4, c.place)
		assert.Equal(t, c.bse2e, l.BSE2E, "under the cap")
		assert.Equal(t, c.bse1e, l.BSE1E, "under the cap")
	}
}

func TestASCE41Caps(t *testing.T) {
	// ASCE 41-17 2.4.1.3 and 2.4.1.4: each parameter is capped by itself.
	l, err := ASCE41(SpectralPair{1.5, 0.6}, SpectralPair{1.8, 0.5}, SpectralPair{0.9, 0.45})
	require.NoError(t, err)
	assert.Equal(t, SpectralPair{1.5, 0.5}, l.BSE2E)
	assert.InDelta(t, 0.9, l.BSE1E.SXS, 1e-12)
	assert.InDelta(t, 0.4, l.BSE1E.SX1, 1e-12)
	_, err = ASCE41(SpectralPair{1.5, 0.6}, SpectralPair{0.5, 0.5}, SpectralPair{0.9, 0.45})
	assert.ErrorContains(t, err, "above 5 %")
	_, err = ASCE41(SpectralPair{1.5, 0}, SpectralPair{0.5, 0.5}, SpectralPair{0.9, 0.45})
	assert.ErrorContains(t, err, "positive")
}

func TestASCE41FromCurves(t *testing.T) {
	short, one := curve(t, losAngelesShort), curve(t, losAngelesOne)
	l, status, err := ASCE41FromCurves(ASCE710, ASCE7B, 2.3, 0.8, short, one)
	require.NoError(t, err)
	assert.Zero(t, status)
	in20, _ := short.Sa(AnnualFrequency(0.20, 50))
	in5, _ := one.Sa(AnnualFrequency(0.05, 50))
	assert.Equal(t, in20, l.BSE1E.SXS)
	assert.Equal(t, in5, l.BSE2E.SX1)
	_, status, err = ASCE41FromCurves(ASCE716, ASCE7D, 2.3, 0.8, short, one)
	require.NoError(t, err)
	assert.Equal(t, StudyNeeded, status)
	_, _, err = ASCE41FromCurves(ASCE716, ASCE7D, -1, 0.8, short, one)
	assert.Error(t, err)
	var s Spectrum
	require.NoError(t, l.BSE1N.Fill(&s, 8))
	assert.InDelta(t, l.BSE1N.SX1/2, s.Sa(2), 1e-12)
}

func TestASCE722Parameters(t *testing.T) {
	// ASCE 7-22 21.4, from memory, on a spectrum made for it: largest Sa 1.0 g at
	// 0.3 s, T Sa 0.50 at 1 s, 0.70 at 2 s, 0.75 at 3 s and 0.60 at 5 s.
	axis := NewAxis([]float64{0.1, 0.2, 0.3, 0.5, 1, 2, 3, 5})
	ln := make([]float64, len(axis.T))
	for i, v := range []float64{0.7, 0.9, 1.0, 0.8, 0.50, 0.35, 0.25, 0.12} {
		ln[i] = math.Log(v)
	}
	var s Spectrum
	s.Set(axis, 0.4, ln)
	sds, sd1 := ASCE722Parameters(&s, 250)
	assert.InDelta(t, 0.90, sds, 1e-12)
	assert.InDelta(t, 0.90*0.75, sd1, 1e-12)
	_, sd1 = ASCE722Parameters(&s, 600)
	assert.InDelta(t, 0.90*0.70, sd1, 1e-12)
	// Where T Sa is flat, Sa(1 s) governs.
	require.NoError(t, TwoPeriod(&s, 1, 0.6, 8))
	_, sd1 = ASCE722Parameters(&s, 250)
	assert.InDelta(t, 0.6, sd1, 1e-12)
}

func TestMaximumDirection(t *testing.T) {
	// ASCE 7-16 21.2, from memory.
	for _, c := range [][2]float64{{0, 1.1}, {0.2, 1.1}, {0.6, 1.2}, {1, 1.3}, {3, 1.4}, {5, 1.5}, {9, 1.5}} {
		assert.InDelta(t, c[1], MaximumDirection(c[0]), 1e-12)
	}
}
