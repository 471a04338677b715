package demand

import "math"

// A System is a frame on isolators of bilinear force: elastic up to the yield displacement Dy, then
// Qd + Kd D. Friction that holds until it slides has Dy = 0. The frame counts with its first mode on
// a fixed base; it is a rigid block where its period is 0.
type System struct {
	Mass  float64 // kg, above the isolators [M]
	Qd    float64 // N, characteristic strength: force at zero displacement
	Kd    float64 // N/m, post-yield stiffness
	Dy    float64 // m, yield displacement
	C     float64 // N s/m, of parallel linear viscous dampers; 0 for none
	Frame float64 // s, first period of the frame on a fixed base [Tf]
	Part  float64 // effective mass of that mode over Mass [gam]
	Own   float64 // damping of the frame, a fraction of critical [b0]
}

// Stiffness returns the secant stiffness in N/m at displacement d in m.
//
//	Ke = Kd + Qd/max(D, Dy)
//
// Naeim and Kelly 1999, Design of Seismic Isolated Structures; ASCE 7-16 17.2.8.
func (s *System) Stiffness(d float64) float64 { return s.Kd + s.Qd/max(d, s.Dy) }

// A coupling is the lowest mode of a frame on isolators of a given stiffness.
type coupling struct {
	stiffness float64 // N/m, of the isolators [Ke]
	square    float64 // 1/s2, of the circular frequency [w2]
	eps       float64 // (Tf/Te)2, share of the frame in the displacement of the mode
	share     float64 // displacement of the isolators over the spectral one [s]
}

// couple returns the lowest mode with isolators of stiffness ke in N/m: that of two masses, the slab
// and the frame in its first mode, which is exact for them.
//
//	kap = Ke/(M wf2),  eps = 2 kap/(1 + kap + sqrt((1 + kap)2 - 4 (1 - gam) kap)),  w2 = eps wf2
//	s   = (1 - eps)(1 - (1 - gam) eps)/(1 - (1 - gam) eps (2 - eps))
//
// The slab moves 1 - eps and floor i moves 1 - eps + eps G1 phi_i1. It follows from Ke (1 - eps) =
// w2 M (1 - eps + gam eps). A rigid frame has eps = 0, s = 1; stiff isolators give eps = 1, s = 0.
// Naeim and Kelly 1999 chapter 2 (from memory) give the first order, w2 = (Ke/M)(1 - gam Ke/(M wf2)).
func (s *System) couple(ke float64) coupling {
	x := s.Frame / (2 * math.Pi)
	kappa, rest := ke/s.Mass*x*x, 1-s.Part
	lower := 2 / (1 + kappa + math.Sqrt((1+kappa)*(1+kappa)-4*rest*kappa))
	eps := lower * kappa
	return coupling{ke, lower * ke / s.Mass, eps,
		(1 - eps) * (1 - rest*eps) / (1 - rest*eps*(2-eps))}
}

// damping returns the damping of c at displacement d in m of the isolators, a fraction of critical:
// theirs by their share in the strain energy, which is s, and that of the frame.
//
//	b = s EDC/(2 pi Ke D2) + b0 sqrt(eps) (1 - s)
//
// ASCE 7-16 equation 17.2-4 for the isolators. The damping of the frame is proportional to its
// stiffness.
func (s *System) damping(c *coupling, d float64) float64 {
	loop := 2 / math.Pi * s.Qd * max(0, d-s.Dy) / (c.stiffness * d * d)
	if s.C > 0 {
		loop += s.C * math.Sqrt(c.square) / (2 * c.stiffness)
	}
	if c.eps == 0 {
		return loop
	}
	return c.share*loop + s.Own*math.Sqrt(c.eps)*(1-c.share)
}

// Period returns the effective period in s at displacement d in m.
//
//	Te = 2 pi sqrt(M/Ke)    rigid frame, ASCE 7-16 equation 17.5-2; otherwise of couple
func (s *System) Period(d float64) float64 {
	c := s.couple(s.Stiffness(d))
	return 2 * math.Pi / math.Sqrt(c.square)
}

// Damping returns the effective damping at displacement d in m, a fraction of critical.
func (s *System) Damping(d float64) float64 {
	c := s.couple(s.Stiffness(d))
	return s.damping(&c, d)
}

// Dissipated returns the energy in J of one cycle of amplitude d in m.
//
//	EDC = 4 Qd (D - Dy) + pi C w D2;  first term 0 for D <= Dy
func (s *System) Dissipated(d float64) float64 {
	loop := 4 * s.Qd * max(0, d-s.Dy)
	if s.C == 0 {
		return loop
	}
	c := s.couple(s.Stiffness(d))
	return loop + math.Pi*s.C*math.Sqrt(c.square)*d*d
}

// Force returns the force in N of the isolators at displacement d in m.
func (s *System) Force(d float64) float64 { return s.Stiffness(d) * d }

// DamperForce returns the largest force in N of the dampers in a cycle of amplitude
// d in m.
//
//	C w D
func (s *System) DamperForce(d float64) float64 {
	if s.C == 0 {
		return 0
	}
	c := s.couple(s.Stiffness(d))
	return s.C * math.Sqrt(c.square) * d
}

// Shear returns the largest force in N through isolators and dampers together in a cycle of
// amplitude d in m. It occurs on the way back from d.
//
//	V = Q + sqrt((Ke D - Q)2 + (C w D)2),  Q = Qd, 0 up to Dy;  Ke D without dampers
func (s *System) Shear(d float64) float64 {
	spring := s.Force(d)
	if s.C == 0 {
		return spring
	}
	held := s.Qd
	if d <= s.Dy {
		held = 0
	}
	return held + math.Hypot(spring-held, s.DamperForce(d))
}

// SlidingPeriod returns the period in s of Kd alone.
func (s *System) SlidingPeriod() float64 { return 2 * math.Pi * math.Sqrt(s.Mass/s.Kd) }
