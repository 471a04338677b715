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
		{"Century City", SpectralPair{2.194, 0.815}, SpectralPair{1.463, 0.543}, SpectralPair{1.599, 0.572},
			SpectralPair{0.778, 0.281}},
		{"Memphis", SpectralPair{1.010, 0.351}, SpectralPair{0.673, 0.234}, SpectralPair{0.712, 0.235},
			SpectralPair{0.131, 0.036}},
		{"Boise", SpectralPair{0.311, 0.106}, SpectralPair{0.208, 0.071}, SpectralPair{0.213, 0.074},
			SpectralPair{0.099, 0.036}},
	} {
		l, err := ASCE41(c.bse2n, c.bse2e, c.bse1e)
		require.NoError(t, err)
		assert.Equal(t, c.bse2n, l.BSE2N)
		// 8.4e-4: half of the last digit of the first value and two thirds of that of the
		// second.
		assert.InDelta(t, c.bse1n.SXS, l.BSE1N.SXS, 8.4e-4, c.place)
		assert.InDelta(t, c.bse1n.SX1, l.BSE1N.SX1, 8.4e-4, c.place)
		assert.Equal(t, c.bse2e, l.BSE2E, "under the cap")
		assert.Equal(t, c.bse1e, l.BSE1E, "under the cap")
	}
}

func TestASCE41Caps(t *testing.T) {
	// ASCE 41-17 2.4.1.3 and 2.4.1.4: each parameter is capped separately.
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

// The site of two USGS curves near Los Angeles: its levels are those of the curves,
// in the direction of the largest response, by 90 % of the plateau.
func TestASCE41OfASite(t *testing.T) {
	short, one := curve(t, losAngelesShort), curve(t, losAngelesOne)
	site := Site{ReturnPeriod: []float64{25, 50, 100, 224, 475, 975, 2475, 4975, 9975, 50000}}
	site.Spectra = make([]Spectrum, len(site.ReturnPeriod))
	for i, tr := range site.ReturnPeriod {
		a, _ := short.Sa(1 / tr)
		b, _ := one.Sa(1 / tr)
		require.NoError(t, TwoPeriod(&site.Spectra[i], a, b, 8))
	}
	l, status, err := site.ASCE41(math.NaN())
	require.NoError(t, err)
	assert.Zero(t, status&BelowRange)
	in20, _ := one.Sa(1 / 224.)
	// T Sa is flat between nodes; times the largest factor of direction there, 1.5 at 5 s.
	assert.InEpsilon(t, 0.9*1.5*in20, l.BSE1E.SX1, 1e-3)
	// Risk coefficients of the United States lie from 0.85 to 1.15 (ASCE 7-16 Figures
	// 22-18 and 22-19, from memory); here over the 2 % in 50 years motion.
	c, err := site.Curve(1)
	require.NoError(t, err)
	rt, _, err := c.RiskTargeted(ASCE7Risk)
	require.NoError(t, err)
	uniform, _ := one.Sa(AnnualFrequency(0.02, 50))
	assert.InDelta(t, 1, rt/uniform, 0.15)
	assert.InEpsilon(t, l.BSE2N.SXS*2/3, l.BSE1N.SXS, 1e-12)

	// Twice the hazard, twice the levels.
	for i := range site.Spectra {
		site.Spectra[i].Scale(2)
	}
	twice, _, err := site.ASCE41(math.NaN())
	require.NoError(t, err)
	assert.InEpsilon(t, 2*l.BSE2N.SXS, twice.BSE2N.SXS, 1e-6)
	assert.InEpsilon(t, 2*l.BSE1E.SX1, twice.BSE1E.SX1, 1e-6)

	// Cases that two levels do not decide.
	few := Site{ReturnPeriod: []float64{475, 2475}, Spectra: []Spectrum{site.Spectra[4], site.Spectra[6]}}
	_, status, err = few.ASCE41(300)
	require.NoError(t, err)
	assert.NotZero(t, status&AboveRange, "much of the risk lies beyond 2475 years")
	few.Spectra[1] = few.Spectra[0]
	_, _, err = few.ASCE41(300)
	assert.ErrorContains(t, err, "must rise")
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
