package hazard

import (
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
	assert.Zero(t, SitePeriodOfClass('A'))
	assert.Zero(t, SitePeriodOfClass(0))
	assert.Less(t, SitePeriodOfClass('C'), SitePeriodOfClass('D'))
	assert.Less(t, SitePeriodOfClass('D'), SitePeriodOfClass('E'))
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
