package demand

import "math"

// A System is a mass on isolators of bilinear force: Qd + Kd D at displacement D
// past their yield displacement Dy. Friction without elasticity has Dy = 0.
type System struct {
	Mass float64 // kg, above the isolators
	Qd   float64 // N, characteristic strength: force at zero displacement
	Kd   float64 // N/m, post-yield stiffness
	Dy   float64 // m, yield displacement
	C    float64 // N s/m, of parallel linear viscous dampers; 0 for none
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
//	b = EDC/(2 pi Ke D2)    ASCE 7-16 equation 17.2-4
func (s *System) Damping(d float64) float64 {
	return s.Dissipated(d) / (2 * math.Pi * s.Stiffness(d) * d * d)
}

// Dissipated returns the energy in J of one cycle of amplitude d in m.
//
//	EDC = 4 Qd (D - Dy) + pi C w D2,  w2 = Ke/M;  first term 0 for D <= Dy
func (s *System) Dissipated(d float64) float64 {
	loop := 4 * s.Qd * max(0, d-s.Dy)
	if s.C == 0 {
		return loop
	}
	return loop + math.Pi*s.C*math.Sqrt(s.Stiffness(d)/s.Mass)*d*d
}

// Force returns the force in N of the isolators at displacement d in m, at least
// Dy.
func (s *System) Force(d float64) float64 { return s.Qd + s.Kd*d }

// DamperForce returns the largest force in N of the dampers in a cycle of amplitude
// d in m.
//
//	C w D,  w2 = Ke/M
func (s *System) DamperForce(d float64) float64 {
	return s.C * math.Sqrt(s.Stiffness(d)/s.Mass) * d
}

// Shear returns the largest force in N through isolators and dampers together in a cycle of
// amplitude d in m, at least Dy. It occurs on the way back from d.
//
//	V = Qd + sqrt((Kd D)2 + (C w D)2);  Ke D without dampers
func (s *System) Shear(d float64) float64 { return s.Qd + math.Hypot(s.Kd*d, s.DamperForce(d)) }

// SlidingPeriod returns the period in s of Kd alone.
func (s *System) SlidingPeriod() float64 { return 2 * math.Pi * math.Sqrt(s.Mass/s.Kd) }
