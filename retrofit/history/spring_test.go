package history

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// pull moves s to x in fine steps and returns its force.
func pull(l *law, s *spring, x float64) float64 {
	const steps = 200
	from := s.x
	for i := 1; i <= steps; i++ {
		at := from + (x-from)*float64(i)/steps
		f, kt := l.try(s, at)
		l.commit(s, at, f, kt)
	}
	return s.f
}

// TestBilinear follows a loop by hand: k = 100, V = 10, r = 0.1, yield at 0.1.
func TestBilinear(t *testing.T) {
	l := bilinear(100, 10, 0.1)
	var s spring
	l.reset(&s)
	assert.InDelta(t, 8, pull(&l, &s, 0.08), 1e-9, "elastic")
	assert.InDelta(t, 12, pull(&l, &s, 0.3), 1e-9, "10 + 0.2 x 10")
	assert.InDelta(t, -8, pull(&l, &s, 0.1), 1e-9, "down by 20 = 2 V over 0.2")
	assert.InDelta(t, -12, pull(&l, &s, -0.3), 1e-9)
	assert.InDelta(t, 12, pull(&l, &s, 0.3), 1e-9, "the loop closes")
}

// TestDegrading follows the rules of Clough and Johnston 1966 with Mahin and Lin's 1983 by hand:
// k = 100, V = 10, r = 0, yield at 0.1.
func TestDegrading(t *testing.T) {
	l := bilinear(100, 10, 0)
	l.degrading = true
	var s spring
	l.reset(&s)
	assert.InDelta(t, 10, pull(&l, &s, 0.3), 1e-9, "first loading is bilinear")
	assert.InDelta(t, 0, pull(&l, &s, 0.2), 1e-9, "unloads at k: 10/100 from 0.3")
	assert.InDelta(t, -5, pull(&l, &s, 0.05), 1e-9,
		"from 0.2 straight to the yield point -0.1, -10: half way")
	assert.InDelta(t, -10, pull(&l, &s, -0.1), 1e-9)
	assert.InDelta(t, -10, pull(&l, &s, -0.2), 1e-9, "and on along the line")
	assert.InDelta(t, 0, pull(&l, &s, -0.1), 1e-9)
	assert.InDelta(t, 5, pull(&l, &s, 0.1), 1e-9, "from -0.1 to the farthest point 0.3, 10: half way")
	assert.InDelta(t, 3, pull(&l, &s, 0.08), 1e-9, "partial unloading at k")
	assert.InDelta(t, 5, pull(&l, &s, 0.1), 1e-9, "back along it")
	assert.InDelta(t, 7.5, pull(&l, &s, 0.2), 1e-9, "and on to the farthest point")
	assert.InDelta(t, 10, pull(&l, &s, 0.3), 1e-9)
}

// TestSpringsDissipate checks for any path that the force stays within strength and hardening
// at the farthest point, that the tangent never exceeds the first stiffness, and that a closed
// path gives no energy.
func TestSpringsDissipate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := bilinear(100, 10, rapid.Float64Range(0, 0.3).Draw(t, "ratio"))
		l.degrading = rapid.Bool().Draw(t, "degrading")
		var s spring
		l.reset(&s)
		work, over, far := 0.0, 0.0, 0.0
		path := rapid.SliceOfN(rapid.Float64Range(-1, 1), 1, 20).Draw(t, "path")
		for _, x := range append(path, 0) {
			const steps = 400
			from := s.x
			for i := 1; i <= steps; i++ {
				at := from + (x-from)*float64(i)/steps
				f, kt := l.try(&s, at)
				work += (f + s.f) / 2 * (at - s.x)
				l.commit(&s, at, f, kt)
				if kt > l.k*(1+1e-9) || kt < 0 {
					t.Fatalf("tangent %g at %g", kt, at)
				}
				far = max(far, math.Abs(at))
				over = max(over, math.Abs(f)-max(10, l.q+l.r*far))
			}
		}
		if over > 1e-9 {
			t.Fatalf("force exceeds strength and hardening by %g", over)
		}
		left := s.f * s.f / (2 * l.k) // can still be given back
		if work < left-0.05 {         // 0.05: trapezia across the corners of 20 branches
			t.Fatalf("work %g on a closed path, %g left", work, left)
		}
	})
}
