package demand

import "math"

// fixedPoint seeks x = f(x) for a positive f that is below x for x large enough: by the secant
// within brackets, and by halving them, or doubling x, where the secant leaves them or is slow. A
// jump of f across x counts as the solution. The caller evaluates f:
//
//	for q.more() {
//		q.take(f(q.x))
//	}
type fixedPoint struct {
	x      float64 // at which f is asked for next; the solution once more returns false
	lo, hi float64 // f is above x at lo and below it at hi
	steps  int
	found  bool

	last, lastOff float64 // previous x and f(x) - x
}

// Limits of the search.
const (
	pointTolerance = 1e-5 // of x: |f(x) - x|
	maxPointSteps  = 40
)

// startAt returns a search that begins at x, for solutions up to most.
func startAt(x, most float64) fixedPoint { return fixedPoint{x: x, hi: most} }

// more reports whether the search goes on. A search that ends without found has not settled.
func (q *fixedPoint) more() bool { return !q.found && q.steps < maxPointSteps }

// take uses f(x).
func (q *fixedPoint) take(f float64) {
	off := f - q.x
	q.steps++
	if off > 0 {
		q.lo = q.x
	} else {
		q.hi = q.x
	}
	if math.Abs(off) <= pointTolerance*q.x || q.hi-q.lo <= pointTolerance*q.x {
		q.found = true
		return
	}
	next := f
	if q.steps > 1 && off != q.lastOff {
		next = q.x - off*(q.x-q.last)/(off-q.lastOff)
	}
	if q.steps > quickSteps || !(next > q.lo && next < q.hi) {
		next = min(2*q.lo, (q.lo+q.hi)/2)
		if q.lo == 0 {
			next = q.hi / 2
		}
	}
	q.last, q.lastOff, q.x = q.x, off, next
}
