package demand

import (
	"math"

	"plinth/hazard"
)

// A System is a mass on isolators of bilinear force: Qd + Kd D at displacement D
// past their yield displacement Dy. Friction without elasticity has Dy = 0.
type System struct {
	Mass float64 // kg, above the isolators
	Qd   float64 // N, characteristic strength: force at zero displacement
	Kd   float64 // N/m, post-yield stiffness
	Dy   float64 // m, yield displacement
}

// Stiffness returns the secant stiffness in N/m at displacement d in m.
//
//	Ke = Kd + Qd/D
//
// Naeim and Kelly 1999, Design of Seismic Isolated Structures; ASCE 7-16 17.2.8.
func (s *System) Stiffness(d float64) float64 { return s.Kd + s.Qd/d }

// Period returns the effective period in s at displacement d in m.
//
//	Te = 2 pi sqrt(M/Ke)    ASCE 7-16 equation 17.5-2
func (s *System) Period(d float64) float64 {
	return 2 * math.Pi * math.Sqrt(s.Mass/s.Stiffness(d))
}

// Damping returns the effective damping at displacement d in m, a fraction of
// critical.
//
//	b = 4 Qd (D - Dy)/(2 pi Ke D2)    ASCE 7-16 equation 17.2-4; 0 for D <= Dy
func (s *System) Damping(d float64) float64 {
	return s.Dissipated(d) / (2 * math.Pi * s.Stiffness(d) * d * d)
}

// Dissipated returns the energy in J of one cycle of amplitude d in m.
//
//	EDC = 4 Qd (D - Dy);  0 for D <= Dy
func (s *System) Dissipated(d float64) float64 { return 4 * s.Qd * max(0, d-s.Dy) }

// Force returns the force in N at displacement d in m, at least Dy.
func (s *System) Force(d float64) float64 { return s.Qd + s.Kd*d }

// SlidingPeriod returns the period in s of Kd alone.
func (s *System) SlidingPeriod() float64 { return 2 * math.Pi * math.Sqrt(s.Mass/s.Kd) }

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

// The search for roots: every step of a fixed grid in ln D between Dy and the
// largest possible displacement is tried, then the interval of the largest root
// is narrowed to rootTolerance in ln D. Two roots within one step pass unseen.
const (
	scanSteps     = 24
	scanLeast     = 1e-5 // lower end over upper end, for Dy = 0
	rootTolerance = 1e-6
	quickSteps    = 12 // of false position before plain bisection
	maxSteps      = 60
)

// SolveDisplacement returns the displacement at which isolators balance.
//
//	D = Sd(Te(D))/B(b(D)),  D > Dy
//
// sd gives the 5 % damped spectral displacement in m at a period in s. The root
// is bracketed before it is narrowed, since plain substitution of D fails to
// converge in up to a tenth of designs. Where several displacements balance the
// largest is taken and the status says SeveralRoots. Where none does the isolators
// do not move: Stuck.
//
// Mass, Qd and Kd must be positive and Dy not negative.
func SolveDisplacement(s System, sd func(t float64) float64, b hazard.Reduction) Equilibrium {
	gap := func(d float64) float64 {
		return d - sd(s.Period(d))/b(max(leastIsolatorDamping, s.Damping(d)))
	}
	var e Equilibrium
	top, ok := upperEnd(&s, sd, b, gap)
	if !ok {
		e.Status |= Capped
	}
	bottom := max(s.Dy, scanLeast*top)
	step := math.Pow(bottom/top, 1.0/scanSteps)
	d, g := top, math.Inf(1)
	var lo, hi, gapLo, gapHi float64 // bracket of the largest root
	for i := 1; top > bottom && i <= scanSteps; i++ {
		above, gapAbove := d, g
		d *= step
		g = gap(d)
		if (g >= 0) == (gapAbove >= 0) {
			continue
		}
		if e.Roots == 0 {
			lo, gapLo, hi, gapHi = d, g, above, gapAbove
		}
		e.Roots++
	}
	e.Displacement = s.Dy
	switch {
	case e.Roots == 0:
		e.Status |= Stuck
		if s.Dy == 0 { // no secant: report the least displacement tried
			e.Displacement = bottom
		}
	case e.Roots > 1:
		e.Status |= SeveralRoots
	}
	if e.Roots > 0 {
		e.Displacement, ok = narrow(gap, lo, gapLo, hi, gapHi)
		if !ok {
			e.Status |= Capped
		}
	}
	e.Stiffness, e.Period = s.Stiffness(e.Displacement), s.Period(e.Displacement)
	e.Damping = max(leastIsolatorDamping, s.Damping(e.Displacement))
	e.Reduction = b(e.Damping)
	return e
}

// narrow closes the bracket lo < root <= hi, where gap is negative at lo and not
// at hi, by false position with the Illinois rule (Dahlquist and Bjorck 1974,
// Numerical Methods) and, should that be slow, bisection in ln D. It reports
// false if neither reached the tolerance.
func narrow(gap func(float64) float64, lo, gapLo, hi, gapHi float64) (root float64, ok bool) {
	side := 0
	for i := range maxSteps {
		if hi <= lo*(1+rootTolerance) {
			return math.Sqrt(lo * hi), true
		}
		mid := (lo*gapHi - hi*gapLo) / (gapHi - gapLo)
		if i >= quickSteps || !(mid > lo && mid < hi) {
			mid = math.Sqrt(lo * hi)
		}
		switch g := gap(mid); {
		case g == 0:
			return mid, true
		case g > 0:
			hi, gapHi = mid, g
			if side > 0 {
				gapLo /= 2
			}
			side = 1
		default:
			lo, gapLo = mid, g
			if side < 0 {
				gapHi /= 2
			}
			side = -1
		}
	}
	return math.Sqrt(lo * hi), false
}

// upperEnd returns a displacement in m above every root: more than the spectrum
// asks at the least damping near the longest period the system can have. ok is
// false if there is none.
func upperEnd(s *System, sd func(float64) float64, b hazard.Reduction, gap func(float64) float64) (high float64, ok bool) {
	t := s.SlidingPeriod()
	most := max(sd(t), sd(0.8*t), sd(0.6*t), sd(0.4*t))
	high = max(1.2*most/b(leastIsolatorDamping), s.Dy)
	for range maxSteps {
		if gap(high) >= 0 {
			return high, true
		}
		high *= 2
	}
	return high, false
}
