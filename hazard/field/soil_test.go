package field

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
)

// ASCE 7-16 Tables 11.4-1, 11.4-2 and 11.8-1 for class C: at Ss = 0.25 g Fa is 1.3,
// at S1 = 0.1 g Fv is 1.5, at PGA = 0.1 g FPGA is 1.3.
func TestSoilTakesTheCoefficientsAtTheirPeriods(t *testing.T) {
	periods := []float64{0.05, 0.2, math.Sqrt(0.2), 1, 3}
	rock := []Level{{475, 0.1, []float64{0.2, 0.25, 0.2, 0.1, 0.02}}}
	f, err := NewConstant(periods, rock, Options{ReturnPeriods: []float64{475}})
	require.NoError(t, err)
	var s hazard.Site
	require.NoError(t, f.Lookup(0, 0, 'C', &s))
	assert.Equal(t, hazard.SiteClass('C'), s.Class)
	assert.Zero(t, s.Status)
	assert.InEpsilon(t, 1.3*0.1, s.Spectra[0].PGA, 1e-9)
	// half way in ln T at sqrt(0.2 x 1)
	for i, factor := range []float64{1.3, 1.3, math.Sqrt(1.3 * 1.5), 1.5, 1.5} {
		assert.InEpsilon(t, factor*rock[0].Sa[i], s.Spectra[0].Sa(periods[i]), 1e-9, "at %g s", periods[i])
	}
	require.ErrorIs(t, f.Lookup(0, 0, 0, &s), ErrNoClass)

	f, err = NewConstant(periods, rock, Options{ReturnPeriods: []float64{475}, DefaultClass: 'C'})
	require.NoError(t, err)
	require.NoError(t, f.Lookup(0, 0, 0, &s))
	assert.Equal(t, hazard.AssumedClass, s.Status)
	assert.InEpsilon(t, 1.3*0.1, s.Spectra[0].PGA, 1e-9)
}

// The coefficients of each level are read at its own accelerations: class E has
// Fa 2.4 at Ss = 0.25 g and 1.3 at 0.75 g. 11.4.8 asks for a study where S1 is 0.2 g
// and more, at levels up to the MCER.
func TestSoilFollowsTheLevelOfShaking(t *testing.T) {
	periods := []float64{0.2, 1}
	rock := []Level{{475, 0.1, []float64{0.25, 0.1}}, {2475, 0.3, []float64{0.75, 0.3}}}
	at := func(levels ...float64) *hazard.Site {
		f, err := NewConstant(periods, rock, Options{ReturnPeriods: levels})
		require.NoError(t, err)
		var s hazard.Site
		require.NoError(t, f.Lookup(0, 0, 'E', &s))
		return &s
	}
	s := at(475, 2475)
	assert.InEpsilon(t, 2.4*0.25, s.Spectra[0].Sa(0.2), 1e-9)
	assert.InEpsilon(t, 1.3*0.75, s.Spectra[1].Sa(0.2), 1e-9)
	assert.Equal(t, hazard.StudyNeeded, s.Status)
	assert.Zero(t, at(475).Status)
	assert.Equal(t, hazard.AboveRange, at(475, 4975).Status)
}

// Between the periods of its coefficients the standard's own spectrum gives a
// factor too: the two-period spectrum on soil over that on rock (11.4.6). The
// bounds are the agreement that the methods page states.
func TestSoilBetweenItsPeriodsAgainstTheTwoPeriodSpectrum(t *testing.T) {
	periods := []float64{0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1}
	low, high := math.Inf(1), 0.0
	for _, class := range []hazard.SiteClass{'C', 'D', 'E'} {
		for _, ss := range []float64{0.25, 0.5, 1, 1.5} {
			s1 := 0.4 * ss
			ground, _, err := hazard.ASCE7ClassOf(class, false)
			require.NoError(t, err)
			m, err := hazard.ASCE7(hazard.ASCE716, ground, ss, s1)
			require.NoError(t, err)
			var rock, soil hazard.Spectrum
			require.NoError(t, hazard.TwoPeriod(&rock, ss, s1, 8))
			require.NoError(t, hazard.TwoPeriod(&soil, m.SMS, m.SM1, 8))
			level := Level{ReturnPeriod: 475, PGA: 0.4 * ss}
			for _, p := range periods {
				level.Sa = append(level.Sa, rock.Sa(p))
			}
			f, err := NewConstant(periods, []Level{level}, Options{ReturnPeriods: []float64{475}})
			require.NoError(t, err)
			var s hazard.Site
			require.NoError(t, f.Lookup(0, 0, class, &s))
			for _, p := range periods {
				r := s.Spectra[0].Sa(p) / soil.Sa(p)
				low, high = min(low, r), max(high, r)
			}
		}
	}
	assert.InDelta(t, 0.88, low, 0.005)
	assert.InDelta(t, 1.35, high, 0.005)
}
