package demand

import "math"

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
