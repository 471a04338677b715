package hazard

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSiteClasses(t *testing.T) {
	// ASCE 7-16 Table 20.3-1 and EN 1998-1 Table 3.1.
	for _, c := range []struct {
		vs       float64
		asce, en SiteClass
	}{
		{2000, 'A', 'A'}, {1500, 'B', 'A'}, {800, 'B', 'B'}, {761, 'B', 'B'}, {760, 'C', 'B'},
		{361, 'C', 'B'},
		{360, 'D', 'C'}, {180, 'D', 'C'}, {179, 'E', 'D'}, {90, 'E', 'D'},
	} {
		asce, err := SiteClassASCE7(c.vs)
		require.NoError(t, err)
		en, err := SiteClassEN1998(c.vs)
		require.NoError(t, err)
		assert.Equal(t, c.asce, asce, "%g m/s", c.vs)
		assert.Equal(t, c.en, en, "%g m/s", c.vs)
	}
	// NZS 1170.5 3.1.3, from memory.
	for _, c := range []struct {
		vs, period, soft float64
		want             SiteClass
	}{
		{1800, 0.05, 0, 'A'}, {600, 0.1, 0, 'B'}, {300, 0.4, 0, 'C'}, {300, 0.6, 0, 'C'}, {300, 0.61, 0, 'D'},
		{300, 0.4, 11, 'E'},
	} {
		got, err := SiteClassNZS1170(c.vs, c.period, c.soft)
		require.NoError(t, err)
		assert.Equal(t, c.want, got)
	}
	_, err := SiteClassASCE7(0)
	assert.ErrorContains(t, err, "positive")
	_, err = SiteClassEN1998(-1)
	assert.Error(t, err)
	_, err = SiteClassNZS1170(0, 1, 0)
	assert.Error(t, err)
}

func TestSitePeriod(t *testing.T) {
	// Ts = 4 H/Vs (Kramer 1996): 30 m at 200 m/s.
	assert.InDelta(t, 0.6, SitePeriod(30, 200), 1e-12)
}

// TestSitePeriodOfGround: softer ground is slower, whether told by its class or by its velocity;
// the softest class is slower than 1 s, since clay of at most 120 m/s over 30 m is.
func TestSitePeriodOfGround(t *testing.T) {
	nan := math.NaN()
	for s := SoilStandard(0); s < soilStandards; s++ {
		last := 0.0
		for c := SiteClass('A'); c <= 'D'; c++ {
			now := s.SitePeriod(c, nan)
			assert.GreaterOrEqual(t, now, last, "%v %v", s, c)
			assert.Less(t, now, 2.0)
			last = now
		}
		assert.True(t, math.IsNaN(s.SitePeriod(0, nan)), "not known is not rock")
		assert.Zero(t, s.SitePeriod(s.Rock(), nan), "rock has no layer that sways")
		for v, was := 800.0, 0.0; v > 50; v -= 10 {
			now := s.SitePeriod('D', v)
			assert.GreaterOrEqual(t, now, was, "%v at %g m/s", s, v)
			was = now
		}
		assert.InDelta(t, 0.6, s.SitePeriod('D', 200), 1e-12, "4 H/Vs (Kramer 1996)")
	}
	for _, c := range []SiteClass{'E', 'F'} {
		assert.GreaterOrEqual(t, SoilASCE7.SitePeriod(c, nan), SitePeriod(30, 120), c)
	}
	assert.GreaterOrEqual(t, SoilNZS1170.SitePeriod('E', nan), SitePeriod(30, 120))
}

func TestResonant(t *testing.T) {
	assert.True(t, Resonant(1.0, 1.0))
	assert.True(t, Resonant(2.6, 2.0))
	assert.False(t, Resonant(2.7, 2.0))
	assert.False(t, Resonant(0.6, 1.0))
	assert.False(t, Resonant(0.5, 0), "rock has no period to meet")
}

func TestNearFault(t *testing.T) {
	// ASCE 7-16 11.4.1, from memory.
	assert.True(t, NearFault(15, 7))
	assert.False(t, NearFault(15, 6.9))
	assert.True(t, NearFault(10, 6))
	assert.False(t, NearFault(3, 5.9))
}
