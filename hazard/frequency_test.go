package hazard

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestAnnualFrequency(t *testing.T) {
	// USGS design web service, public test fixtures: 20 % in 50 and 25 years.
	assert.InDelta(t, 0.004462871026284194, AnnualFrequency(0.20, 50), 1e-15)
	assert.InDelta(t, 0.008925742052568388, AnnualFrequency(0.20, 25), 1e-15)
	// The usual levels, computed from -ln(1-p)/t, to half the last digit.
	for _, c := range [][2]float64{{0.5, 72.13}, {0.2, 224.07}, {0.1, 474.56}, {0.05, 974.79},
		{0.02, 2474.92}, {0.01, 4974.96}} {
		assert.InDelta(t, c[1], 1/AnnualFrequency(c[0], 50), 5e-3)
	}
}

func TestExtendPowerLaw(t *testing.T) {
	var at Spectrum
	require.NoError(t, Eurocode8Type1.Elastic(&at, 'B', 0.25))
	s := Site{ReturnPeriod: []float64{95, 475, 2475}}
	require.NoError(t, s.ExtendPowerLaw(&at, 475, 3))
	// EN 1998-1 2.1(4): (95/475)^(1/3) = 0.5848 and (2475/475)^(1/3) = 1.7337.
	assert.InDelta(t, 0.75*0.5848, s.Spectra[0].Sa(0.3), 5e-5)
	assert.Equal(t, at.Sa(0.3), s.Spectra[1].Sa(0.3), "the reference level is untouched")
	assert.InDelta(t, 0.375*1.7337, s.Spectra[2].Sa(1), 5e-5)
	assert.InDelta(t, 0.5, s.Spectra[2].TC, 1e-12)
	assert.Equal(t, PowerLaw, s.Status)
	assert.Error(t, s.ExtendPowerLaw(&at, 475, 0))
	assert.Zero(t, testing.AllocsPerRun(100, func() { _ = s.ExtendPowerLaw(&at, 475, 3) }))

	one := Site{ReturnPeriod: []float64{475}}
	require.NoError(t, one.ExtendPowerLaw(&at, 475, 3))
	assert.Zero(t, one.Status)
}
