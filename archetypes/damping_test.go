package archetypes

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestBuildingDamping: 3.6 % at 100 ft, the 5 % of codes for low buildings and 2.5 % for towers; Cruz
// and Miranda 2016 (abstract) find less than 2.5 % in those above 150 m.
func TestBuildingDamping(t *testing.T) {
	assert.InDelta(t, 0.036, BuildingDamping(100*foot), 1e-12)
	assert.Equal(t, CodeDamping, BuildingDamping(3))
	assert.Equal(t, CodeDamping, BuildingDamping(51*foot))
	assert.Equal(t, 0.025, BuildingDamping(150))
	last := 1.0
	for h := 1.0; h < 400; h++ {
		b := BuildingDamping(h)
		assert.LessOrEqual(t, b, last)
		last = b
	}
}

// TestDampingReachesTheStick: a tower damps less than a house, and a stick that nobody gave a
// damping has that of the codes.
func TestDampingReachesTheStick(t *testing.T) {
	var s Stick
	assert.Equal(t, CodeDamping, s.DampingRatio())
	a := assigned(t, "us-west", "4", 1990, func(d *Description) { d.Height = 30 })
	a.Build(&s)
	assert.Equal(t, BuildingDamping(30), s.DampingRatio())
	assert.NotNil(t, a.Basis[DampingValue].Formula)
	assert.Positive(t, a.DampingBeta)
}
