package history

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestPower checks against the standard library over the range velocities have.
func TestPower(t *testing.T) {
	for _, e := range []float64{-0.45, -0.35, -0.25, -0.1, 0} {
		p := newPower(e)
		for x := 1e-7; x < 1e7; x *= 1.0137 {
			assert.InEpsilon(t, math.Pow(x, e), p.of(x), 1e-8)
		}
	}
}
