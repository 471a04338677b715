package retrofit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A sized bearing has the required stiffness and strength, and meets each limit of its rule, at
// least one of them exactly.
func TestBearingSizeMeetsItsRule(t *testing.T) {
	r := DefaultBearingRule()
	for _, q := range [][4]float64{ // kd, qd, load, displacement
		{0.8e6, 200e3, 2.6e6, 0.20}, {0.8e6, 50e3, 0.3e6, 0.30}, {3e6, 400e3, 6e6, 0.15},
		{1e6, 100e3, 5e6, 0.01},
	} {
		b := r.Size(q[0], q[1], q[2], q[3])
		device := b.Device(1)
		assert.InEpsilon(t, q[0], device.Kd, 1e-9)
		assert.InEpsilon(t, q[1], device.Qd, 1e-9)
		area := math.Pi / 4 * (b.Diameter*b.Diameter - b.Lead*b.Lead)
		use := [...]float64{q[3] / b.Rubber / r.ShearStrain, q[2] / area / r.Pressure,
			q[3] / b.Diameter / r.Overlap}
		worst := max(use[0], use[1], use[2])
		assert.InDelta(t, 1, worst, 1e-9, "%v", use)
	}
	assert.True(t, math.IsNaN(r.Size(math.NaN(), 1, 1, 1).Diameter))
}

// DTM/DM of ASCE 7-16 17.5-3 with PT = 1: the least, 1.15, for a square; for a
// plan of 60 m by 40 m with e 3 m and y 30 m, 0.60385/0.5 (computed from the formula).
func TestTotalOverCentre(t *testing.T) {
	square := Facts{Length: 20, Width: 20}
	assert.InDelta(t, 1.15, square.totalOverCentre(), 1e-12)
	long := Facts{Length: 40, Width: 60}
	assert.InDelta(t, 0.60385/0.5, long.totalOverCentre(), 1e-4)
	unknown := Facts{Length: math.NaN(), Width: math.NaN(), Footprint: math.NaN(), FloorArea: math.NaN()}
	assert.InDelta(t, 1.15, unknown.totalOverCentre(), 1e-12)
}
