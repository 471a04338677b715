package hazard

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestNewmarkHallFactors(t *testing.T) {
	// Newmark and Hall (1982); Chopra, Table 6.9.1, from memory, to its last digit.
	for _, c := range []struct{ z, a, v, d, a84, v84, d84 float64 }{
		{0.5, 3.68, 2.59, 2.01, 5.10, 3.84, 3.04},
		{1, 3.21, 2.31, 1.82, 4.38, 3.38, 2.73},
		{2, 2.74, 2.03, 1.63, 3.66, 2.92, 2.42},
		{3, 2.46, 1.86, 1.52, 3.24, 2.64, 2.24},
		{5, 2.12, 1.65, 1.39, 2.71, 2.30, 2.01},
		{7, 1.89, 1.51, 1.29, 2.36, 2.08, 1.85},
		{10, 1.64, 1.37, 1.20, 1.99, 1.84, 1.69},
		{20, 1.17, 1.08, 1.01, 1.26, 1.37, 1.38},
	} {
		a, v, d := NewmarkHallFactors(Median, c.z/100)
		assert.InDeltaSlice(t, []float64{c.a, c.v, c.d}, []float64{a, v, d}, 0.0065, "median, %g %%", c.z)
		a, v, d = NewmarkHallFactors(MedianPlusOneDev, c.z/100)
		assert.InDeltaSlice(t, []float64{c.a84, c.v84, c.d84}, []float64{a, v, d}, 0.0065, "84.1 %%, %g %%", c.z)
	}
}

func TestNewmarkHall(t *testing.T) {
	// Chopra, Figure 6.9.5, 84.1 % for 1 g, 48 in/s and 36 in, from memory, to the
	// 0.5 % of its printed digits.
	const inch = 0.0254
	var s Spectrum
	require.NoError(t, NewmarkHall(&s, MedianPlusOneDev, 1, 48*inch, 36*inch))
	assert.InDelta(t, 0.66, s.TC, 5e-3)
	assert.InEpsilon(t, 2.71, s.Sa(0.3), 5e-3)
	assert.InEpsilon(t, 1.80, s.Sa(1), 5e-3)
	assert.InEpsilon(t, 1.80/3, s.Sa(3), 5e-3)
	assert.InEpsilon(t, 7.40/36, s.Sa(6), 5e-3)
	assert.InEpsilon(t, 11.70*math.Pow(0.06, 0.704), s.Sa(0.06), 5e-3)
	assert.InDelta(t, 1, s.Sa(0.02), 1e-12)
	assert.InEpsilon(t, 36*inch*math.Pow(2*math.Pi/40, 2)/Gravity, s.Sa(40), 1e-9, "ground displacement at long periods")
	nodes, _ := s.Nodes()
	assert.InEpsilon(t, 4.12, nodes[3], 5e-3)
	assert.Error(t, NewmarkHall(&s, Median, 1, 0.01, 0.9))
}
