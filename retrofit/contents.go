package retrofit

import (
	"math"

	"plinth/hazard"
	"plinth/retrofit/demand"
)

const gravity = hazard.Gravity // m/s2

// The effect of floor shaking on contents. All of it is horizontal.

// VerticalNote must accompany every horizontal floor acceleration.
const VerticalNote = "Only horizontal shaking is counted. No measure here lessens vertical shaking, " +
	"isolation included: " +
	"ceilings, racks and objects on shelves need ties of their own."

// String returns the class's word in registers and files.
func (c Contents) String() string { return contentsWords[c] }

var contentsWords = [...]string{"ordinary", "sensitive", "fragile"}

// Thresholds returns the peak floor accelerations in m/s2 at which contents of a class begin to
// be damaged and at which loss is heavy: 0.4 and 1.0 g for ordinary, 0.3 and 0.9 g for
// sensitive, 0.25 and 0.6 g for fragile contents. They are the first two medians of
// components.csv in retrofit/consequence, which names their sources.
func (c Contents) Thresholds() (onset, heavy float64) {
	t := [...][2]float64{{0.4, 1.0}, {0.3, 0.9}, {0.25, 0.6}}[c]
	return t[0] * gravity, t[1] * gravity
}

// RockingAcceleration returns the floor acceleration in m/s2 at which a free
// standing block of base width b and height h, in the same unit, lifts an edge:
//
//	a = g b/h
//
// West's formula for a rigid block with its mass at its centre (Milne and Omori 1893; Ishiyama
// 1982, from memory). At this acceleration rocking begins; a large block may rock at several
// times a without falling (Housner 1963). Widths and heights that are not positive give NaN.
func RockingAcceleration(b, h float64) float64 {
	if !(b > 0 && h > 0) {
		return math.NaN()
	}
	return gravity * b / h
}

// SlidingAcceleration returns the floor acceleration in m/s2 at which a free
// standing object slides, for a static coefficient of friction mu.
//
//	a = mu g
//
// A negative coefficient gives NaN.
func SlidingAcceleration(mu float64) float64 {
	if !(mu >= 0) {
		return math.NaN()
	}
	return mu * gravity
}

// Movement is the first movement of a free-standing object as the floor shakes harder.
type Movement uint8

// The movements.
const (
	Stays Movement = iota
	Slides
	Rocks
)

var movementWords = [...]string{"stays", "slides", "rocks"}

// String returns the movement in one word.
func (m Movement) String() string { return movementWords[m] }

// FloorAmplification returns the acceleration of an item of period ta in s over
// that of the floor it stands on, at relative height z (0 ground, 1 roof) of a
// building of first period t1 in s:
//
//	A = (3 (1 + z)/(1 + (1 - ta/t1)^2) - 0.5)/(3 (1 + z)/2 - 0.5)
//
// and at least 1/(3 (1 + z)/2 - 0.5). It is the ordinate of EN 1998-1:2004 4.3.5.2 equation
// 4.25 (from memory) over its own value at ta = 0, and multiplies the floor acceleration
// computed here instead of that of the clause. It peaks at ta = t1, at 2.5 for the ground and
// 2.2 for the roof, and has no second mode. For an isolated building t1 is the isolated period.
// Domain: ta >= 0, t1 > 0, 0 <= z <= 1; NaN outside.
func FloorAmplification(ta, t1, z float64) float64 {
	if !(ta >= 0 && t1 > 0 && z >= 0 && z <= 1) {
		return math.NaN()
	}
	off := 1 - ta/t1
	rise := 3 * (1 + z)
	return max(1, rise/(1+off*off)-0.5) / (rise/2 - 0.5)
}

// ItemAcceleration returns the acceleration in m/s2 of an item of period ta in s on floor i of
// a building under r: the floor's acceleration times FloorAmplification. i is 0 for the ground
// floor or the slab above isolators and len(r.Accel) for the roof.
func ItemAcceleration(r *demand.Response, i int, ta float64) float64 {
	a := r.BaseAccel
	if i > 0 {
		a = r.Accel[i-1]
	}
	return a * FloorAmplification(ta, r.Period, float64(i)/float64(len(r.Accel)))
}

// AnchorageForce returns the design force of an anchored item over its weight, after
// ASCE 7-16 equations 13.3-1 to 13.3-3 (from memory):
//
//	Fp/Wp = 0.4 ap SDS (1 + 2 z)/(Rp/Ip),  0.3 SDS Ip <= Fp/Wp <= 1.6 SDS Ip
//
// with SDS in g, ap 1 to 2.5, Rp 1 to 12, Ip 1 or 1.5 and z the relative height.
func AnchorageForce(sds, ap, rp, ip, z float64) float64 {
	f := 0.4 * ap * sds * ip / rp * (1 + 2*z)
	return min(1.6*sds*ip, max(0.3*sds*ip, f))
}
