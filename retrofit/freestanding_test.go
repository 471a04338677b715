package retrofit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// pulse returns a floor acceleration of a in m/s2 that lasts t s and then none, at a
// step in s.
func pulse(a, t, step float64, samples int) []float64 {
	out := make([]float64, samples)
	for i := range out {
		if float64(i)*step < t {
			out[i] = a
		}
	}
	return out
}

// A block under a rectangular pulse of N times its grip slides V2/(2 mu g) (1 - mu g/a),
// V = a t (Newmark 1965, from memory; by hand: constant accelerations). Within 1 %: the
// pulse ends over one sample.
func TestSlidingBlock(t *testing.T) {
	o := FreeStanding{BaseOverHeight: 1, Friction: 0.2, Height: 1}
	const step = 0.001
	for _, times := range []float64{1.5, 2, 4} {
		grip := 0.2 * gravity
		a, last := times*grip, 0.3
		got := o.Ride(pulse(a, last, step, 3000), step)
		v := a * last
		assert.InEpsilon(t, -v*v/(2*grip)*(1-grip/a), got[len(got)-1].Slide, 0.01, "%g", times)
	}
	for _, p := range o.Ride(pulse(0.19*gravity, 1, step, 2000), step) {
		require.Zero(t, p, "below the grip nothing moves")
	}
}

// A slender block is overturned by a rectangular pulse of x times its threshold that
// lasts as long as
//
//	cosh(p t) = 1 + 1/(2 x (x - 1))
//
// (Housner 1963, from memory; by hand: the linear equation of a slender block). For b/h of
// 1/20 that is met within 2 %.
func TestPulseThatOverturns(t *testing.T) {
	o := FreeStanding{BaseOverHeight: 0.05, Friction: 1, Height: 2}
	p := math.Sqrt(3 * gravity / (4 * math.Hypot(2, 0.1) / 2))
	const step = 0.001
	for _, x := range []float64{1.3, 2, 4} {
		falls := func(last float64) bool {
			got := o.Ride(pulse(x*0.05*gravity, last, step, 20000), step)
			return math.Abs(got[len(got)-1].Tilt) == Fallen
		}
		last := math.Acosh(1+1/(2*x*(x-1))) / p
		assert.False(t, falls(0.98*last), "%g", x)
		assert.True(t, falls(1.02*last), "%g", x)
	}
}

// A slender block let go at a tilt rocks back in a quarter of Housner's period,
//
//	T = 4/p acosh(1/(1 - t0/alpha))
//
// (Housner 1963, from memory). The pulse that lifts it is not part of it.
func TestRockingPeriod(t *testing.T) {
	o := FreeStanding{BaseOverHeight: 0.05, Friction: 1, Height: 2}
	const step = 0.001
	got := o.Ride(pulse(0.1*gravity, 0.2, step, 8000), step)
	top, at, landed := 0.0, 0, false
	for i, q := range got {
		if -q.Tilt > top {
			top, at = -q.Tilt, i
		}
		if at > 0 && q.Tilt >= 0 {
			landed = true
			p := math.Sqrt(3 * gravity / (4 * math.Hypot(2, 0.1) / 2))
			assert.InEpsilon(t, math.Acosh(1/(1-top/math.Atan(0.05)))/p, float64(i-at)*step, 0.02)
			break
		}
	}
	require.True(t, landed)
	last := got[len(got)-1]
	assert.Less(t, math.Abs(last.Tilt), top, "it loses energy at every landing")
}

// A cabinet of the default stays where the floor is gentle, rocks above 1/3 g, and does
// not slide; one on a smooth floor slides and does not rock; without a height it stands.
func TestRide(t *testing.T) {
	cabinet := DefaultFreeStanding()
	shake := func(a float64) []float64 {
		out := make([]float64, 1000)
		for i := range out {
			out[i] = a * gravity * math.Sin(2*math.Pi*float64(i)*0.005/0.5)
		}
		return out
	}
	end := func(o FreeStanding, a float64) (tilt, slide float64) {
		for _, p := range o.Ride(shake(a), 0.005) {
			tilt, slide = max(tilt, math.Abs(p.Tilt)), max(slide, math.Abs(p.Slide))
		}
		return
	}
	tilt, slide := end(cabinet, 0.32)
	assert.Zero(t, tilt+slide)
	tilt, slide = end(cabinet, 0.4)
	assert.Positive(t, tilt)
	assert.Less(t, tilt, math.Atan(1.0/3),
		"a large block rocks at more than its threshold and stands (Housner 1963)")
	assert.Zero(t, slide)
	smooth := cabinet
	smooth.Friction = 0.2
	tilt, slide = end(smooth, 0.4)
	assert.Zero(t, tilt)
	assert.Positive(t, slide)
	smooth.Height = 0
	tilt, slide = end(smooth, 0.4)
	assert.Zero(t, tilt+slide)
}
