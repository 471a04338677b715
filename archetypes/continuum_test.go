package archetypes

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestContinuum compares with Miranda and Taghavi (2005): the equations from
// memory, the numbers between the ends computed independently from them. The ends
// are textbook: flexural beam 1 : 0.1596 : 0.0570 with roots 1.8751, 4.6941,
// 7.8548; shear beam 1 : 1/3 : 1/5 with Gamma 4/pi and modal mass 8/pi^2.
func TestContinuum(t *testing.T) {
	for _, c := range []struct {
		alpha      float64
		root       [3]float64
		t2, t3     float64
		gamma      [3]float64
		massRatio1 float64
	}{
		{0, [3]float64{1.8751, 4.6941, 7.8548}, 0.1596, 0.0570, [3]float64{1.5660, -0.8679, 0.5089}, 0.6131},
		{2, [3]float64{1.9437, 4.7809, 7.8857}, 0.2188, 0.0845, [3]float64{1.5164, -0.8132, 0.5024}, 0.6450},
		{5, [3]float64{1.8667, 4.9873, 8.0096}, 0.2829, 0.1317, [3]float64{1.3943, -0.6634, 0.4668}, 0.7054},
		{10, [3]float64{1.7351, 5.0444, 8.1700}, 0.3117, 0.1669, [3]float64{1.3147, -0.5295, 0.3858}, 0.7469},
		{30, [3]float64{1.6247, 4.8671, 8.0911}, 0.3300, 0.1942, [3]float64{1.2783, -0.4394, 0.2788}, 0.7857},
		{650, [3]float64{1.5732, 4.7196, 7.8661}, 0.3333, 0.2000, [3]float64{4 / math.Pi, -0.4244, 0.2546},
			0.8106},
	} {
		got := NewContinuum(c.alpha)
		for j, want := range c.root {
			// printed digits
			assert.InDelta(t, want, got.shapes[j].g, 5.1e-5, "alpha %g root %d", c.alpha, j+1)
		}
		assert.InDelta(t, c.t2, got.PeriodRatio[1], 1e-4, "alpha %g", c.alpha)
		assert.InDelta(t, c.t3, got.PeriodRatio[2], 1e-4, "alpha %g", c.alpha)
		// alpha 650 represents the limit, from which it differs by 1/alpha.
		tolerance := 1e-4
		if c.alpha == 650 {
			tolerance = 2e-3
		}
		for j, want := range c.gamma {
			assert.InDelta(t, want, got.Gamma[j], tolerance, "alpha %g Gamma %d", c.alpha, j+1)
		}
		assert.InDelta(t, c.massRatio1, got.MassRatio[0], tolerance, "alpha %g", c.alpha)
	}
}

func TestContinuumShape(t *testing.T) {
	for _, alpha := range []float64{0, 1, 12, 100, 650, 1e9} {
		c := NewContinuum(alpha)
		for j := range MaxModes {
			assert.InDelta(t, 0, c.Shape(j, 0), 1e-9)
			assert.InDelta(t, 0, c.Slope(j, 0), 1e-6, "a beam is clamped")
			assert.InDelta(t, 1, c.Shape(j, 1), 1e-12)
			for x := 0.05; x < 1; x += 0.1 {
				h := 1e-6 // central difference: error of order h^2 times the third derivative
				want := (c.Shape(j, x+h) - c.Shape(j, x-h)) / (2 * h)
				assert.InDelta(t, want, c.Slope(j, x), 1e-4*(1+math.Abs(want)), "alpha %g mode %d x %g",
					alpha, j+1, x)
			}
		}
	}
	// A flexural wall drifts most at its roof, 1.377 times the roof drift ratio (mode
	// shape of a cantilever, Blevins, Formulas for Natural Frequency, from memory);
	// a shear beam most at its foot, pi/2 times.
	assert.InDelta(t, 1.377, NewContinuum(0).Slope(0, 1), 1e-3)
	assert.InDelta(t, math.Pi/2, NewContinuum(650).Slope(0, 0.02), 0.01)
}
