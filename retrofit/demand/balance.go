package demand

import (
	"math"

	"plinth/hazard"
)

// Equilibrium is the displacement at which the force of isolators balances the demand of the
// spectrum at their own period and damping.
type Equilibrium struct {
	Displacement float64 // m; 0 if the isolators do not move
	Stiffness    float64 // N/m, secant
	Period       float64 // s, effective
	Damping      float64 // effective, at least leastIsolatorDamping
	Reduction    float64 // B at that damping
	Separation   float64 // (Tf/Te)2, 0 for a rigid frame [eps]
	Share        float64 // of the isolators in the spectral displacement, 1 for a rigid frame [s]
	Gain         float64 // d asked/dD there, to start a search for a neighbour; 0 if not known
	Onset        float64 // friction over the force at which it slides, at most 1; 0 for rubber [lam]
	Roots        int     // displacements that balance
	Status       Status  // SeveralRoots, Stuck, Capped
}

// leastIsolatorDamping is the first row of ASCE 7-16 Table 17.5-1, which also applies to less
// damping.
const leastIsolatorDamping = 0.02

// Constants of the search for roots.
const (
	rootTolerance = 1e-5 // of a displacement past yield: last step of the secant; the error left is smaller
	scanStep      = 0.1  // of ln D where the spectrum rises: two roots within one step are missed
	leastSlide    = 1e-6 // of Qd/Kd: friction that slides less does not move (0.2 micrometres)
	scanLeap      = 8    // steps of the scan skipped together where they hold no root, by trial
	usualGain     = 0.4  // gain of isolators that the first step assumes (judgement)
	quickSteps    = 12   // secant steps before plain bisection
	maxSteps      = 60
)

// balance is a set of isolators under a spectrum.
type balance struct {
	System
	sp *hazard.Spectrum
	b  hazard.Reduction
}

// asked returns the displacement demand in m of the spectrum on the isolators, at the period and
// damping of displacement d in m: s Sd(Te)/B(b).
func (q *balance) asked(d float64) float64 {
	c := q.couple(q.Stiffness(d))
	return c.share * q.ordinate(2*math.Pi/math.Sqrt(c.square), q.damping(&c, d)) / c.square
}

// ordinate returns the spectral acceleration in m/s2 at period t in s and a damping, of at least
// 2 %. Below TB a rigid body follows the ground: see ordinate.
func (q *balance) ordinate(t, damping float64) float64 {
	sa, divisor := q.sp.Sa(t), q.reduction(max(leastIsolatorDamping, damping), t)
	if t >= q.sp.TB || divisor <= 1 {
		return sa / divisor * hazard.Gravity
	}
	pga := q.sp.PGA
	return (pga + (sa-pga)/divisor - pga*(1-1/divisor)*t/q.sp.TB) * hazard.Gravity
}

// reduction returns B of a damping at a period in s, by its worth in the shaking.
func (q *balance) reduction(damping, period float64) float64 { return q.b(q.sp.Worth(damping, period)) }

// Start is a first guess for a balance. It changes how fast the balance is found, not which one.
// The zero value leaves the guess to the search.
type Start struct {
	Displacement float64 // m
	Gain         float64 // d asked/dD
}

// Start returns the first guess for a balance similar to e.
func (e *Equilibrium) Start() Start { return Start{e.Displacement, e.Gain} }

// SolveDisplacement returns the displacement at which a frame on isolators balances under a
// spectrum, with a reduction b of displacement by damping.
//
//	D = asked(D) = s Sd(Te(D))/B(b(D))
//
// Up to Dy the isolators are elastic and asked does not change. Friction (Dy = 0) first slides at a
// spectral force of gam M Sa(Tf)/B(0.05) = Qd, with D growing from 0; below that there is no
// balance but 0, and the isolators do not move: Stuck.
//
// Where Sa does not rise with period there is at most one balance for a rigid frame: with p the
// slope of ln Sd in ln T and u = Kd D/(Kd D + Qd),
//
//	d ln asked/d ln D <= p (1 - u)/2 + u <= 1    for p <= 2
//
// since the damping falls no faster than D^-u (that of dampers rises) and B no faster than the
// damping. A flexible frame lowers the slope further, since the damping rises with s (tests try
// random systems). The sign of asked(D) - D at the lower end of that range therefore tells whether
// it holds a balance, and none is missed. Where the spectrum rises, below that range, a grid in
// ln D brackets the roots. If several displacements balance, the largest is taken and the status
// has SeveralRoots.
//
// Mass, Qd and Kd must be positive and Dy not negative. B must not fall with damping, nor
// damping/B (true of all reductions of package hazard, up to 90 %). Where the spectrum knows its
// shaking, B also changes with period, by a few per cent from one to twice its length: the bound
// holds but for that, and a balance is found all the same.
//
// near is a first guess.
func SolveDisplacement(s System, sp *hazard.Spectrum, b hazard.Reduction, near Start) Equilibrium {
	q := balance{s, sp, b}
	var e Equilibrium
	from, bottom := s.reaches(sp.FallsFrom()), max(s.Dy, leastSlide*s.Qd/s.Kd)
	if s.Dy == 0 && s.Frame > 0 {
		if e.Onset = q.onset(); e.Onset == 1 {
			return s.stuck(b)
		}
	}
	if from > bottom && !q.asksMore(bottom, from) { // part of the range rises and may hold a root
		top := min(from, q.bound())
		d, roots, ok := q.scan(bottom, top)
		e.Displacement, e.Roots = d, roots
		e.fail(!ok, Capped)
	}
	if e.Roots == 0 {
		e.Displacement = bottom
	}
	if root, found, ok := q.above(max(from, bottom), near); found {
		e.Displacement, e.Gain = root.Displacement, root.Gain
		e.Roots++
		e.fail(!ok, Capped)
	}
	switch {
	case e.Roots > 0 && e.Onset > 0:
		e.Displacement = max(bottom, min(e.Displacement, q.excursion(e.Onset)))
	case e.Roots == 0 && s.Dy > 0: // elastic
		e.Displacement, e.Roots = q.asked(s.Dy), 1
	case e.Roots == 0:
		return s.stuck(b)
	}
	e.fail(e.Roots > 1, SeveralRoots)
	c := s.couple(s.Stiffness(e.Displacement))
	e.Stiffness, e.Period = c.stiffness, 2*math.Pi/math.Sqrt(c.square)
	e.Separation, e.Share = c.eps, c.share
	e.Damping = max(leastIsolatorDamping, s.damping(&c, e.Displacement))
	e.Reduction = q.reduction(e.Damping, e.Period)
	return e
}

// fail adds s to the status if failed.
func (e *Equilibrium) fail(failed bool, s Status) {
	if failed {
		e.Status |= s
	}
}

// reaches returns the displacement in m at which the effective period is t in s; +Inf for the
// period of Kd and beyond, 0 below that of the frame.
//
//	Ke = w2 M (1 + gam eps/(1 - eps)),  eps = (Tf/t)2
func (s *System) reaches(t float64) float64 {
	w, eps := 2*math.Pi/t, s.Frame*s.Frame/(t*t)
	if eps >= 1 {
		return 0
	}
	if over := s.Mass*w*w*(1+s.Part*eps/(1-eps)) - s.Kd; over > 0 {
		return s.Qd / over
	}
	return math.Inf(1)
}

// bound returns a displacement in m above every balance: that of the largest ordinate at the
// sliding period and the least damping.
func (q *balance) bound() float64 {
	return q.sp.Peak() * hazard.Gravity * q.Mass / q.Kd / q.b(leastIsolatorDamping)
}

// above returns the balance above from in m, in the range that holds at most one: by the secant
// within brackets, and by bisection in ln D if the secant is slow. It evaluates at from itself
// only once a guess lies below. If the search starts at its root, rounding hides the slope of
// so small a step; the usual gain then ends the search. No step is infinite.
func (q *balance) above(from float64, near Start) (root Start, found, ok bool) {
	if math.IsInf(from, 1) {
		return root, false, true
	}
	lo, hi := from, math.Inf(1)
	asksMore := false // whether asked(lo) > lo is known
	d, gain := max(2*from, q.Qd/q.Kd), usualGain
	if near.Displacement > from && positive(near.Displacement) && near.Gain < 1 {
		d, gain = near.Displacement, near.Gain
	}
	var last, lastOff float64 // previous D and its error
	for i := range maxSteps {
		off := q.asked(d) - d
		if off > 0 {
			lo, asksMore = d, true
		} else {
			hi = d
		}
		if i > 0 {
			gain = usualGain
			if step := d - last; math.Abs(step) > rounding*d {
				gain = 1 + (off-lastOff)/step
			}
		}
		next := d + off/(1-gain)
		if next <= lo && !asksMore {
			if asksMore = q.asked(from) > from; !asksMore {
				return root, false, true
			}
		}
		if i >= quickSteps || !(next >= lo && next <= hi) || math.IsInf(next, 1) {
			next = min(4*lo, math.Sqrt(lo*hi))
		}
		if i > 0 && math.Abs(next-d) <= rootTolerance*(d-q.Dy) {
			return Start{next, gain}, true, true
		}
		last, lastOff, d = d, off, next
	}
	return Start{d, gain}, true, false
}

// scan returns the largest balance between bottom and top in m and the number of balances, or
// bottom and 0, by the signs at the points of a grid in ln D. It skips steps that cannot hold
// one.
func (q *balance) scan(bottom, top float64) (root float64, roots int, ok bool) {
	if bottom >= top {
		return bottom, 0, true
	}
	steps := math.Ceil(math.Log(top/bottom) / scanStep)
	step := math.Pow(bottom/top, 1/steps)
	leap := math.Pow(step, scanLeap)
	d, less := top, q.asked(top) > top
	root, ok = bottom, true
	var lo, hi float64 // bracket of the largest
	for k := 0; k < int(steps); k++ {
		if less && k%scanLeap == 0 && q.asksMore(max(bottom, d*leap), d) {
			d *= leap
			k += scanLeap - 1
			continue
		}
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

// asksMore reports whether asked(D) > D is certain at every displacement D from lo to hi in m, at
// least Dy. It uses bounds: the least ordinate of their periods, the smallest displacement for one
// ordinate, and the most damping with its most worth.
//
//	asked(D) >= s/w2(lo) min Sa g/B(b)
//	b = 2 Qd (1 - Dy/hi)/(pi F(lo)) + C w(lo)/(2 Ke(hi)) + b0 sqrt(eps)(1 - s)
//
// with eps and s at lo.
func (q *balance) asksMore(lo, hi float64) bool {
	a, b := q.couple(q.Stiffness(lo)), q.couple(q.Stiffness(hi))
	damping := 2/math.Pi*q.Qd*(1-q.Dy/hi)/q.Force(lo) + q.C*math.Sqrt(a.square)/(2*b.stiffness) +
		q.Own*math.Sqrt(a.eps)*(1-a.share)
	from, to := 2*math.Pi/math.Sqrt(a.square), 2*math.Pi/math.Sqrt(b.square)
	worth := q.sp.MostWorth(max(leastIsolatorDamping, damping), from, to)
	return a.share/a.square*q.sp.Least(from, to)*hazard.Gravity/q.b(worth) > hi
}

// between narrows a bracket by bisection in ln D. It returns false if the tolerance is not
// reached.
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
