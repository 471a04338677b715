package retrofit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"plinth/retrofit/demand"
)

// ASCE 7-16 13.3-1 at its floor and in between: ap 1, Rp 2.5, Ip 1, SDS 1, z 0 gives 0.30;
// ap 2.5, Rp 6, z 1 gives 0.50 (arithmetic of the clause).
func TestAnchorageForce(t *testing.T) {
	assert.InDelta(t, 0.30, AnchorageForce(1, 1, 2.5, 1, 0), 1e-12)
	assert.InDelta(t, 0.50, AnchorageForce(1, 2.5, 6, 1, 1), 1e-12)
	assert.InDelta(t, 1.60, AnchorageForce(1, 2.5, 1, 1, 1), 1e-12)
}

// EN 1998-1 4.3.5.2, from memory: over the ground's a_g S, 2.5 on the roof for a rigid
// item, 5.5 in resonance there, 1 at the least.
func TestFloorAmplification(t *testing.T) {
	overGround := func(ta, t1, z float64) float64 { return FloorAmplification(ta, t1, z) * (3*(1+z)/2 - 0.5) }
	assert.InDelta(t, 2.5, overGround(0, 0.5, 1), 1e-12)
	assert.InDelta(t, 5.5, overGround(0.5, 0.5, 1), 1e-12)
	assert.InDelta(t, 1, overGround(0, 0.5, 0), 1e-12)
	assert.InDelta(t, 1, overGround(5, 0.5, 0.5), 1e-12)
	assert.InDelta(t, 1, FloorAmplification(0, 2.5, 0.3), 1e-12, "a rigid item moves with its floor")
	assert.True(t, math.IsNaN(FloorAmplification(-1, 1, 0)))
	assert.True(t, math.IsNaN(FloorAmplification(1, 0, 0)))
}

// A rigid item feels its floor; one in resonance 2.2 times that on the roof (EN
// 1998-1 4.3.5.2, from memory); behind isolators a cabinet far from the isolated
// period feels less amplification than in the building as it stands.
func TestItemAcceleration(t *testing.T) {
	c := teachingHospital.build(t)
	r := &c.AsIs[c.Design]
	n := len(r.Accel)
	assert.InEpsilon(t, r.Accel[n-1], ItemAcceleration(r, n, 0), 1e-12)
	assert.InEpsilon(t, 2.2*r.Accel[n-1], ItemAcceleration(r, n, r.Period), 1e-12)
	assert.InEpsilon(t, r.BaseAccel, ItemAcceleration(r, 0, 0), 1e-12)
	iso := &run(NewLeadRubber(DefaultLeadRubberOptions()), c).Levels[c.Design]
	assert.Less(t, ItemAcceleration(iso, n, 0.3)/iso.Accel[n-1], ItemAcceleration(r, n, 0.3)/r.Accel[n-1])
	assert.Less(t, ItemAcceleration(iso, n, 0.3), 0.4*ItemAcceleration(r, n, 0.3))
}

// West's formula and friction (textbook): a slender rigid block of 0.2 m by 0.8 m rocks from
// 0.25 g on; with friction 0.15 it slides first.
func TestFirstMovement(t *testing.T) {
	assert.InDelta(t, 0.25*gravity, RockingAcceleration(0.2, 0.8), 1e-12)
	move, at := FreeStanding{BaseOverHeight: 0.2 / 0.8, Friction: 0.5}.First()
	assert.Equal(t, Rocks, move)
	assert.InDelta(t, 0.25*gravity, at, 1e-12)
	move, at = FreeStanding{BaseOverHeight: 0.2 / 0.8, Friction: 0.15}.First()
	assert.Equal(t, Slides, move)
	assert.InDelta(t, 0.15*gravity, at, 1e-12)
	move, at = FreeStanding{BaseOverHeight: math.NaN(), Friction: math.NaN()}.First()
	assert.Equal(t, Stays, move)
	assert.True(t, math.IsNaN(at))
	assert.True(t, math.IsNaN(SlidingAcceleration(-0.1)))
}

// The more sensitive the contents, the lower their thresholds.
func TestThresholdsFallWithTheClass(t *testing.T) {
	last := [2]float64{math.Inf(1), math.Inf(1)}
	for c := OrdinaryContents; c <= FragileContents; c++ {
		onset, heavy := c.Thresholds()
		assert.Less(t, onset, heavy)
		assert.Less(t, onset, last[0], c.String())
		assert.Less(t, heavy, last[1], c.String())
		last = [2]float64{onset, heavy}
	}
}

// The columns of contents are those of the worst floor, amplified for the kind, and lower
// behind isolators. As the peak floor acceleration of a case they agree with the response they
// come from.
func TestContentsResponse(t *testing.T) {
	c := teachingHospital.build(t)
	o := run(NewLeadRubber(DefaultLeadRubberOptions()), c)
	object := DefaultFreeStanding()
	asIs, iso := ContentsResponse(c, c.AsIs, object), ContentsResponse(c, o.Levels, object)
	assert.Equal(t, c.AsIs[c.Design].PeakAccel, asIs.PeakFloor)
	assert.Equal(t, o.Levels[c.Design].PeakAccel, iso.PeakFloor)
	assert.Equal(t, asIs.PeakFloor, c.AsIs[c.Design].Accel[asIs.Floor-1], "the worst floor")
	for k, kind := range ItemKinds() {
		assert.NotEmpty(t, kind.Slug)
		assert.GreaterOrEqual(t, asIs.Items[k], ItemAcceleration(&c.AsIs[c.Design], asIs.Floor, kind.Period),
			kind.Slug)
		if kind.Period < 1 { // an item as slow as the isolators feels them
			assert.Less(t, iso.Items[k], asIs.Items[k], kind.Slug)
		}
	}
	assert.Equal(t, Rocks, asIs.First, "b/h 0.33 below friction 0.4")
	assert.Greater(t, iso.MovesAt, asIs.MovesAt)

	// ASCE 7-16 11.9.2 and Table 11.9-1 (from memory), class B: the plateau of 0.9 g
	// is between SS 0.6 and 1.0 g, Cv 0.9.
	assert.InEpsilon(t, 0.3*0.9*0.9*gravity, asIs.VerticalGround, 1e-9)
	assert.InEpsilon(t, 0.8*0.9*0.9*gravity, iso.VerticalStiff, 1e-9, "isolators leave it")
	c.Facts.SiteClass = 'F'
	barred := ContentsResponse(c, nil, object)
	for _, v := range []float64{barred.PeakFloor, barred.Items[0], barred.MovesAt, barred.VerticalGround} {
		assert.True(t, math.IsNaN(v))
	}
}

// Floor accelerations of 1, 2 and 4 m/s2 at 100, 200 and 400 yr: a = sqrt(2) is
// exceeded at 100 sqrt(2) yr (arithmetic of the straight line in logarithms).
func TestReturnPeriodOfFirstMovement(t *testing.T) {
	years := []float64{100, 200, 400}
	levels := []demand.Response{{PeakAccel: 1}, {PeakAccel: 2}, {PeakAccel: 4}}
	at, sooner := exceededAt(years, levels, math.Sqrt2)
	assert.InEpsilon(t, 100*math.Sqrt2, at, 1e-12)
	assert.False(t, sooner)
	at, sooner = exceededAt(years, levels, 0.9)
	assert.Equal(t, 100.0, at)
	assert.True(t, sooner)
	at, _ = exceededAt(years, levels, 4)
	assert.True(t, math.IsInf(at, 1))
	at, _ = exceededAt(years, levels, math.NaN())
	assert.True(t, math.IsNaN(at))
}

func TestContentsResponseAllocatesNothing(t *testing.T) {
	c := concreteFrame.build(t)
	assert.Zero(t, testing.AllocsPerRun(10, func() { ContentsResponse(c, c.AsIs, DefaultFreeStanding()) }))
}
