package demand

import (
	"math"

	"plinth/hazard"
)

// An Equilibrium is where isolators come to rest between what they resist and
// what the spectrum asks at their own period and damping.
type Equilibrium struct {
	Displacement float64 // m; Dy if the isolators stick
	Stiffness    float64 // N/m, secant
	Period       float64 // s, effective
	Damping      float64 // effective, at least leastIsolatorDamping
	Reduction    float64 // B at that damping
	Roots        int     // displacements above Dy that balance
	Status       Status  // SeveralRoots, Stuck, Capped
}

// leastIsolatorDamping is the first row of ASCE 7-16 Table 17.5-1, which holds
// for less damping too.
const leastIsolatorDamping = 0.02

// The search for roots.
const (
	rootTolerance = 1e-6 // relative, of a displacement
	scanStep      = 0.1  // of ln D where the spectrum rises: two roots within one step pass unseen
	scanLeast     = 1e-5 // lower end of that search over its upper end, for Dy = 0
	quickSteps    = 12   // of the secant before plain bisection
	maxSteps      = 60
)

// A balance is isolators under a spectrum.
type balance struct {
	System
	sp *hazard.Spectrum
	b  hazard.Reduction
}

// asked returns the displacement in m the spectrum asks of the isolators at their
// period and damping at displacement d in m: Sd(Te)/B(b).
func (q *balance) asked(d float64) float64 {
	ke := q.Stiffness(d)
	x := q.Mass / ke // (Te/2 pi)2
	damping := max(leastIsolatorDamping, q.Dissipated(d)/(2*math.Pi*ke*d*d))
	return q.sp.Sa(2*math.Pi*math.Sqrt(x)) * hazard.Gravity * x / q.b(damping)
}

// SolveDisplacement returns the displacement at which isolators balance under a
// spectrum, with a reduction b of displacement by damping.
//
//	D = asked(D) = Sd(Te(D))/B(b(D)),  D > Dy
//
// Where Sa does not rise with period there is at most one: with p the slope of
// ln Sd in ln T and u = Kd D/(Kd D + Qd),
//
//	d ln asked/d ln D <= p (1 - u)/2 + u <= 1    for p <= 2
//
// since the damping falls no faster than D^-u (that of dampers rises) and B no faster
// than the damping.
// So one sign at the end of that range tells whether it holds a balance, and none
// is lost. Where the spectrum rises, below that range, a grid in ln D finds the
// brackets.
//
// Where several displacements balance the largest is taken and the status says
// SeveralRoots. Where none does the isolators do not move: Stuck.
//
// Mass, Qd and Kd must be positive and Dy not negative. B must not fall with
// damping, nor damping/B (all reductions of package hazard, up to 90 %).
func SolveDisplacement(s System, sp *hazard.Spectrum, b hazard.Reduction) Equilibrium {
	q := balance{s, sp, b}
	var e Equilibrium
	from, bottom := s.reaches(sp.FallsFrom()), s.Dy
	if from > bottom { // some of the range rises
		top := min(from, q.bound())
		bottom = max(bottom, scanLeast*top)
		d, roots, ok := q.scan(bottom, top)
		e.Displacement, e.Roots = d, roots
		e.fail(!ok, Capped)
	}
	if e.Roots == 0 { // what is reported of isolators that stick; without Dy there is no secant at 0
		e.Displacement = bottom
	}
	if d, found, ok := q.above(max(from, bottom)); found {
		e.Displacement = d
		e.Roots++
		e.fail(!ok, Capped)
	}
	e.fail(e.Roots == 0, Stuck)
	e.fail(e.Roots > 1, SeveralRoots)
	e.Stiffness, e.Period = s.Stiffness(e.Displacement), s.Period(e.Displacement)
	e.Damping = max(leastIsolatorDamping, s.Damping(e.Displacement))
	e.Reduction = b(e.Damping)
	return e
}

// fail adds a status where failed.
func (e *Equilibrium) fail(failed bool, s Status) {
	if failed {
		e.Status |= s
	}
}

// reaches returns the displacement in m at which the effective period is t in s;
// +Inf for the sliding period and beyond.
func (s *System) reaches(t float64) float64 {
	w := 2 * math.Pi / t
	if over := s.Mass*w*w - s.Kd; over > 0 {
		return s.Qd / over
	}
	return math.Inf(1)
}

// bound returns a displacement in m no balance is above: that of the largest
// ordinate at the sliding period and the least damping.
func (q *balance) bound() float64 {
	return q.sp.Peak() * hazard.Gravity * q.Mass / q.Kd / q.b(leastIsolatorDamping)
}

// above returns the balance above from in m, in the range that holds one at most:
// by the secant within brackets, and bisection in ln D should that be slow. It
// looks at from itself once the answer may lie below the first guess.
func (q *balance) above(from float64) (root float64, found, ok bool) {
	if math.IsInf(from, 1) {
		return 0, false, true
	}
	lo, hi := 0.0, math.Inf(1)
	d := max(2*from, q.Qd/q.Kd)
	var last, lastOff float64 // D before, and how far it was off
	for i := range maxSteps {
		off := q.asked(d) - d
		if off > 0 {
			lo = d
		} else {
			hi = d
		}
		if lo == 0 {
			if !(q.asked(from) > from) {
				return 0, false, true
			}
			lo = from
		}
		next := d + off // substitution
		if i > 0 {
			next = d - off*(d-last)/(off-lastOff)
		}
		if i >= quickSteps || !(next >= lo && next <= hi) {
			next = min(4*lo, math.Sqrt(lo*hi))
		}
		if i > 0 && math.Abs(next-d) <= rootTolerance*d {
			return next, true, true
		}
		last, lastOff, d = d, off, next
	}
	return d, true, false
}

// scan returns the largest balance between bottom and top in m and how many there
// are, or bottom and none, by the signs at steps of a grid in ln D.
func (q *balance) scan(bottom, top float64) (root float64, roots int, ok bool) {
	if bottom >= top {
		return bottom, 0, true
	}
	steps := math.Ceil(math.Log(top/bottom) / scanStep)
	step := math.Pow(bottom/top, 1/steps)
	d, less := top, q.asked(top) > top
	root, ok = bottom, true
	var lo, hi float64 // bracket of the largest
	for range int(steps) {
		above := d
		d *= step
		l := q.asked(d) > d
		if l == less {
			continue
		}
		less = l
		if roots == 0 {
			lo, hi = d, above
		}
		roots++
	}
	if roots > 0 {
		root, ok = q.between(lo, hi)
	}
	return root, roots, ok
}

// between narrows a bracket by bisection in ln D. It reports false if that does
// not reach the tolerance.
func (q *balance) between(lo, hi float64) (root float64, ok bool) {
	less := q.asked(lo) > lo
	for range maxSteps {
		root = math.Sqrt(lo * hi)
		if hi <= lo*(1+rootTolerance) {
			return root, true
		}
		if (q.asked(root) > root) == less {
			lo = root
		} else {
			hi = root
		}
	}
	return root, false
}
