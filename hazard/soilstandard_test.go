package hazard

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSoilStandards(t *testing.T) {
	for s := range SoilStandard(soilStandards) {
		back, err := ParseSoilStandard(s.String())
		require.NoError(t, err)
		assert.Equal(t, s, back)
		for c := SiteClass('A'); c <= 'E'; c++ {
			firmer, softer := s.Beside(c)
			assert.True(t, firmer <= c && c <= softer)
			assert.Contains(t, "ABCDE", s.ASCE7(c).String())
		}
		assert.Equal(t, SiteClass('F'), s.ASCE7('F'))
		_, err = s.Class(0)
		assert.ErrorContains(t, err, "must be positive")
	}
	_, err := ParseSoilStandard("sia-261")
	assert.ErrorContains(t, err, "asce7-16, en1998-1")
}

// ASCE 7-16 Table 20.3-1, EN 1998-1 Table 3.1 and NZS 1170.5 3.1.3 (from memory): the
// letters of one velocity.
func TestOneVelocityHasOtherLettersElsewhere(t *testing.T) {
	for _, c := range []struct {
		vs30          float64
		asce, en, nzs SiteClass
	}{
		{1600, 'A', 'A', 'A'}, {900, 'B', 'A', 'B'}, {500, 'C', 'B', 'B'}, {250, 'D', 'C', 'C'},
		{190, 'D', 'C', 'D'}, {120, 'E', 'D', 'E'},
	} {
		for s, want := range map[SoilStandard]SiteClass{SoilASCE7: c.asce, SoilEN1998: c.en,
			SoilNTC2018: c.en, SoilNZS1170: c.nzs} {
			got, err := s.Class(c.vs30)
			require.NoError(t, err)
			assert.Equal(t, want, got, "%s, %g m/s", s, c.vs30)
		}
		// EN 1998-1 has the bounds of ASCE 7 one letter on, but for 760 and 800 m/s.
		if c.vs30 < 1500 {
			assert.Equal(t, c.asce, SoilEN1998.ASCE7(c.en), "%g m/s", c.vs30)
		}
	}
}

// Type E of EN 1998-1 is 5 to 20 m of soil over rock (Table 3.1): 4 H/Vs of 12 m at
// 250 m/s. Classes C and D of NZS 1170.5 are told apart by 0.6 s (3.1.3, from memory).
func TestSitePeriodsOfOtherStandards(t *testing.T) {
	nan := math.NaN()
	assert.InDelta(t, SitePeriod(12, 250), SoilEN1998.SitePeriod('E', nan), 0.01)
	assert.Less(t, SoilNZS1170.SitePeriod('C', nan), 0.6)
	assert.Greater(t, SoilNZS1170.SitePeriod('D', nan), 0.6)
	assert.Greater(t, SoilNZS1170.SitePeriod('E', nan), SoilNZS1170.SitePeriod('D', nan))
	assert.Equal(t, SoilASCE7.SitePeriod('D', nan), SoilEN1998.SitePeriod('C', nan))
	firmer, softer := SoilEN1998.Beside('E')
	assert.Equal(t, [2]SiteClass{'E', 'E'}, [2]SiteClass{firmer, softer})
}
