package hazard

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Hazard curves at 34.0 N 118.0 W, Vs30 760 m/s, USGS 2008 model, from the public test fixtures
// of the USGS design web service.
var (
	losAngelesPGA = [2][]float64{
		{0.005, 0.007, 0.0098, 0.0137, 0.0192, 0.0269, 0.0376, 0.0527, 0.0738, 0.103, 0.145, 0.203, 0.284,
			0.397, 0.556, 0.778, 1.09, 1.52, 2.13},
		{0.4679, 0.3925, 0.3172, 0.248, 0.188, 0.139, 0.1006, 0.07031, 0.04694, 0.02956, 0.0171, 0.00937,
			0.004966, 0.002603, 0.001316, 0.0006023, 0.0002285, 0.00006808, 0.00001371},
	}
	losAngelesShort = [2][]float64{
		{0.005, 0.0075, 0.0113, 0.0169, 0.0253, 0.038, 0.057, 0.0854, 0.128, 0.192, 0.288, 0.432, 0.649,
			0.973, 1.46, 2.19, 3.28, 4.92, 7.38},
		{0.6213, 0.5541, 0.4682, 0.3758, 0.2866, 0.2086, 0.1463, 0.09921, 0.06428, 0.03896, 0.02169, 0.01112,
			0.005379, 0.002549, 0.001147, 0.0004485, 0.0001374, 0.00002924, 0.000003009},
	}
	losAngelesOne = [2][]float64{
		{0.0025, 0.00375, 0.00563, 0.00844, 0.0127, 0.019, 0.0285, 0.0427, 0.0641, 0.0961, 0.144, 0.216,
			0.324, 0.487, 0.73, 1.09, 1.64, 2.46, 3.69, 5.54},
		{0.5079, 0.4146, 0.3246, 0.2464, 0.1815, 0.1305, 0.09031, 0.05929, 0.036, 0.01987, 0.009912, 0.004562,
			0.002019, 0.0008614, 0.000337, 0.0001105, 0.00002622, 0.000003592, 0.0000001863, 3.1e-19},
	}
)

func curve(t testing.TB, points [2][]float64) *Curve {
	c, err := NewCurve(points[0], points[1])
	require.NoError(t, err)
	return c
}

func TestCurveAtUsualLevels(t *testing.T) {
	// Log-log interpolation by hand, to half the fifth digit.
	pga, short := curve(t, losAngelesPGA), curve(t, losAngelesShort)
	for _, c := range []struct {
		curve *Curve
		p, sa float64
	}{
		{pga, 0.50, 0.16306}, {pga, 0.20, 0.30018}, {pga, 0.10, 0.44066}, {pga, 0.05, 0.61883},
		{pga, 0.02, 0.89392},
		{short, 0.10, 1.07182}, {short, 0.02, 2.26945},
	} {
		sa, status := c.curve.Sa(AnnualFrequency(c.p, 50))
		assert.Zero(t, status)
		assert.InEpsilon(t, c.sa, sa, 4e-5)
	}
	a1, _ := short.Sa(AnnualFrequency(0.10, 50))
	a2, _ := short.Sa(AnnualFrequency(0.02, 50))
	p := powerCurveThrough(a1, AnnualFrequency(0.10, 50), a2, AnnualFrequency(0.02, 50))
	assert.InEpsilon(t, 2.2016, p.k, 1e-4)
}

func TestCurveAtItsPoints(t *testing.T) {
	for _, points := range [][2][]float64{losAngelesPGA, losAngelesShort, losAngelesOne} {
		c := curve(t, points)
		for i, sa := range points[0] {
			f, status := c.Frequency(sa)
			assert.Zero(t, status)
			assert.InEpsilon(t, points[1][i], f, 1e-12)
			a, status := c.Sa(points[1][i])
			assert.Zero(t, status)
			assert.InEpsilon(t, sa, a, 1e-12)
		}
	}
}

func TestCurveOutsideItsPoints(t *testing.T) {
	c := curve(t, losAngelesPGA)
	f, status := c.Frequency(0.001)
	assert.Equal(t, BelowRange, status)
	assert.InEpsilon(t, 0.4679, f, 1e-12)
	f, status = c.Frequency(9)
	assert.Equal(t, AboveRange, status)
	assert.InEpsilon(t, 1.371e-5, f, 1e-12)
	a, status := c.Sa(0.9)
	assert.Equal(t, BelowRange, status)
	assert.InEpsilon(t, 0.005, a, 1e-12)
	a, status = c.Sa(1e-7)
	assert.Equal(t, AboveRange, status)
	assert.InEpsilon(t, 2.13, a, 1e-12)
	_, status = c.Sa(0)
	assert.Equal(t, AboveRange, status)
	_, status = c.Frequency(-1)
	assert.Equal(t, BelowRange, status)
}

func TestNewCurveRejects(t *testing.T) {
	for _, c := range []struct {
		sa, freq []float64
		says     string
	}{
		{[]float64{0.1}, []float64{0.1, 0.2}, "1 accelerations and 2 frequencies"},
		{[]float64{0.1, 0.2}, []float64{0.1, 0}, "it needs two"},
		{[]float64{0.1, 0.2}, []float64{0.1, 0.2}, "point 2"},
		{[]float64{0.2, 0.1}, []float64{0.2, 0.1}, "point 2"},
		{[]float64{0, 0.1}, []float64{0.2, 0.1}, "point 1"},
		{[]float64{0.1, 0.2, 0.3}, []float64{0.2, math.NaN(), 0.1}, "point 2"},
		{nil, nil, "it needs two"},
	} {
		_, err := NewCurve(c.sa, c.freq)
		assert.ErrorContains(t, err, c.says)
	}
	c, err := NewCurve([]float64{0.1, 0.2, 0.3, 0.4}, []float64{0.2, 0.1, 0, 0})
	require.NoError(t, err)
	_, status := c.Frequency(0.25)
	assert.Equal(t, AboveRange, status, "points of no frequency are left out")
}

func TestCurveFallsAndInverts(t *testing.T) {
	c := curve(t, losAngelesOne)
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(0.0025, 5.5).Draw(t, "a")
		b := rapid.Float64Range(a, 5.5).Draw(t, "b")
		fa, _ := c.Frequency(a)
		fb, _ := c.Frequency(b)
		assert.GreaterOrEqual(t, fa, fb)
		back, status := c.Sa(fa)
		assert.Zero(t, status)
		assert.InEpsilon(t, a, back, 1e-9)
	})
}
