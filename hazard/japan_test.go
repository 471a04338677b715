package hazard

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestJapanBedrock(t *testing.T) {
	// Notification 1457 (2000), from memory, m/s2.
	var s Spectrum
	require.NoError(t, JapanBedrock(&s, JapanSevere, 1))
	for _, c := range [][2]float64{{0, 3.2}, {0.1, 6.2}, {0.4, 8.0}, {1, 5.12}, {2, 2.56}} {
		assert.InDelta(t, c[1], s.Sa(c[0])*Gravity, 1e-9)
	}
	require.NoError(t, JapanBedrock(&s, JapanModerate, 0.9))
	assert.InDelta(t, 0.9*8.0/5, s.Sa(0.4)*Gravity, 1e-9)
	assert.Error(t, JapanBedrock(&s, JapanSevere, 0))
}

func TestJapanStatic(t *testing.T) {
	// Rt on soil type 2 by hand; its form is printed on the Japanese code page of
	// the International Institute of Seismology and Earthquake Engineering.
	for _, c := range [][2]float64{{0.5, 1.0}, {0.8, 0.9778}, {1.0, 0.9111}, {2.0, 0.4800}} {
		assert.InDelta(t, c[1], JapanRt(JapanSoil2, c[0]), 5e-5)
	}
	assert.InDelta(t, 0.6, JapanPeriod(30, 0), 1e-12)
	assert.InDelta(t, 0.9, JapanPeriod(30, 1), 1e-12)
	// C0 0.2 and 1.0: Building Standard Law Enforcement Order, article 88.
	assert.InDelta(t, 0.2, JapanShear(JapanModerate, 1, 1), 1e-12)
	assert.InDelta(t, 0.9, JapanShear(JapanSevere, 0.9, 1), 1e-12)
}
