package history

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestDamperForce checks the force against the standard library beyond the usual range of
// velocities, and its slope against differences.
func TestDamperForce(t *testing.T) {
	for _, alpha := range []float64{0.1, 0.3, 0.5, 0.8} {
		d := damper{c: 2, alpha: alpha, power: newPower(-(1 - alpha) / 2)}
		for v := 1e-6; v < 1e3; v *= 1.0137 {
			f, slope := d.force(v)
			assert.InEpsilon(t, 2*v*math.Pow(v*v+restSpeed*restSpeed, -(1-alpha)/2), f, 1e-8)
			h := 1e-3 * max(v, restSpeed)
			high, _ := d.force(v + h)
			low, _ := d.force(v - h)
			assert.InEpsilon(t, (high-low)/(2*h), slope, 1e-4)
		}
	}
}
