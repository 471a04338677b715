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

// The search for roots: Every power of scanRatio between Dy and the largest
// possible displacement is tried, then one interval is bisected to rootTolerance
// in ln D. Two roots closer than scanRatio can pass unseen.
const (
	scanSteps     = 24
	rootTolerance = 1e-6
	maxBisect     = 60
	maxExpand     = 60
	scanLeast     = 1e-5 // lower end over upper end for Dy = 0
)

// SolveDisplacement returns the displacement at which isolators balance.
//
//	D = Sd(Te(D))/B(b(D)),  D > Dy
//
// sd gives the 5 % damped spectral displacement in m at a period in s. The root
// is bracketed on a fixed grid in ln D and bisected, since plain substitution of
// D fails to converge in up to a tenth of designs. Where several displacements
// balance the largest is taken and the status says SeveralRoots. Where none does
// the isolators do not move: Stuck. Where the stuck state and a moving one both
// balance, the moving one is taken and the status says SeveralRoots.
//
// Mass, Qd and Kd must be positive and Dy not negative.
func SolveDisplacement(s System, sd func(t float64) float64, b hazard.Reduction) Equilibrium {
	gap := func(d float64) float64 {
		return d - sd(s.Period(d))/b(max(leastIsolatorDamping, s.Damping(d)))
	}
	e := Equilibrium{}
	high, ok := upperEnd(&s, sd, b, gap)
	if !ok {
		e.Status |= Capped
	}
	low := max(s.Dy, scanLeast*high)
	ratio := math.Pow(low/high, 1.0/scanSteps)
	lo, hi := low, low // bracket of the largest root
	above, positive := high, true
	for i := 1; high > low && i <= scanSteps; i++ {
		d := above * ratio
		if i == scanSteps {
			d = low
		}
		if p := gap(d) >= 0; p != positive {
			if e.Roots == 0 {
				lo, hi = d, above
			}
			e.Roots, positive = e.Roots+1, p
		}
		above = d
	}
	switch {
	case e.Roots == 0:
		e.Status |= Stuck
	case e.Roots > 1:
		e.Status |= SeveralRoots
	}
	for i := 0; hi > lo*(1+rootTolerance); i++ {
		if i == maxBisect {
			e.Status |= Capped
			break
		}
		if mid := math.Sqrt(lo * hi); gap(mid) >= 0 {
			hi = mid
		} else {
			lo = mid
		}
	}
	e.Displacement = math.Sqrt(lo * hi)
	e.Stiffness, e.Period = s.Stiffness(e.Displacement), s.Period(e.Displacement)
	e.Damping = max(leastIsolatorDamping, s.Damping(e.Displacement))
	e.Reduction = b(e.Damping)
	return e
}

// upperEnd returns a displacement in m above every root: more than the spectrum
// asks at the least damping near the longest period the system can have. ok is
// false if there is none.
func upperEnd(s *System, sd func(float64) float64, b hazard.Reduction, gap func(float64) float64) (high float64, ok bool) {
	t := s.SlidingPeriod()
	most := max(sd(t), sd(0.8*t), sd(0.6*t), sd(0.4*t))
	high = max(1.2*most/b(leastIsolatorDamping), s.Dy)
	for range maxExpand {
		if gap(high) >= 0 {
			return high, true
		}
		high *= 2
	}
	return high, false
}
