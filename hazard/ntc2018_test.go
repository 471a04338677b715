package hazard

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestNTC2018(t *testing.T) {
	// Grid values of L'Aquila for 475 yr, 0.261 g, 2.364 and 0.347 s, and NTC
	// 3.2.3.2.1, all from memory; ordinates by hand.
	site := NTC2018Site{AG: 0.261, F0: 2.364, TC: 0.347, Ground: 'A', Topography: 1}
	var s Spectrum
	require.NoError(t, site.Fill(&s))
	assert.InDelta(t, 0.1157, s.TB, 5e-5)
	assert.InDelta(t, 0.347, s.TC, 1e-12)
	assert.InDelta(t, 2.644, s.lastT, 1e-9)
	assert.InDelta(t, 0.261, s.Sa(0), 1e-12)
	assert.InDelta(t, 0.6170, s.Sa(0.3), 5e-5)
	assert.InDelta(t, 0.2141, s.Sa(1.0), 5e-5)

	site.Ground = 'C'
	ss, cc, err := site.Soil()
	require.NoError(t, err)
	assert.InDelta(t, 1.3298, ss, 5e-5)
	assert.InDelta(t, 1.4890, cc, 5e-5)
	require.NoError(t, site.Fill(&s))
	assert.InDelta(t, 0.5167, s.TC, 5e-5)
	assert.InDelta(t, 0.8205, s.Sa(0.3), 5e-5)
	assert.InDelta(t, 0.4239, s.Sa(1.0), 5e-5)

	site.Topography = 1.2
	require.NoError(t, site.Fill(&s))
	assert.InDelta(t, 1.2*0.8205, s.Sa(0.3), 6e-5)

	site.Ground = 'F'
	assert.ErrorContains(t, site.Fill(&s), "Table 3.2.IV")
	assert.ErrorContains(t, NTC2018Site{AG: 0.2, F0: 2.4, TC: 0.3, Ground: 'B'}.Fill(&s), "ST")
}

func TestNTC2018SoilIsHeldToItsBounds(t *testing.T) {
	// NTC 2018 Table 3.2.IV, from memory.
	for ground, c := range map[SiteClass][2]float64{'A': {1, 1}, 'B': {1.2, 1.0}, 'C': {1.5, 1.0},
		'D': {1.8, 0.9}, 'E': {1.6, 1.0}} {
		for i, ag := range []float64{0.01, 0.9} {
			ss, _, err := NTC2018Site{AG: ag, F0: 2.5, TC: 0.3, Ground: ground}.Soil()
			require.NoError(t, err)
			assert.Equal(t, c[i], ss, "category %s at %g g", ground, ag)
		}
	}
}
