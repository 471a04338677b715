package demand

import (
	"math"

	"plinth/hazard/elementary"
)

// The pieces of ASCE 7-16 chapter 17 that a calculation sheet and a feasibility
// rule need. Lengths in m, periods in s, accelerations in g, gravity in m/s2 as
// the caller's. Equation and clause numbers are from memory.

// MaximumDisplacement returns DM of ASCE 7-16 equation 17.5-1 for a spectrum of
// 1 s acceleration sm1 in g at effective period t and a damping coefficient b.
//
//	DM = g SM1 TM/(4 pi2 BM)
func MaximumDisplacement(gravity, sm1, t, b float64) float64 {
	return gravity * sm1 * t / (4 * math.Pi * math.Pi * b)
}

// Torsion is the plan of an isolated building.
type Torsion struct {
	Length, Width float64 // m, longest plan dimension and the one across it [d, b]
	Eccentricity  float64 // m, actual plus accidental (5 % of Length) [e]
	Lever         float64 // m, from the centre of rigidity to the point of interest [y]
	Ratio         float64 // translational over torsional period, at least 1 [PT]
}

// TotalDisplacement returns DTM, the displacement at a corner, for dm at the
// centre.
//
//	DTM = DM (1 + (y/PT2) 12 e/(b2 + d2)) >= 1.15 DM     ASCE 7-16 equation 17.5-3
func (p *Torsion) TotalDisplacement(dm float64) float64 {
	ratio := max(1, p.Ratio)
	x := p.Lever / (ratio * ratio) * 12 * p.Eccentricity / (p.Width*p.Width + p.Length*p.Length)
	return dm * max(1.15, 1+x)
}

// FrameShear returns Vst, the unreduced shear above the base level, for a shear vb
// through the isolators, the part of the weight above the base level and the
// effective damping b.
//
//	Vst = Vb (Ws/W)^(1 - 2.5 b)     ASCE 7-16 equation 17.5-7
func FrameShear(vb, part, b float64) float64 { return vb * elementary.Pow(part, 1-2.5*b) }

// IsolatedReduction returns RI, by which Vst is divided for the design of the
// frame above isolators, from its R on a fixed base.
//
//	RI = 3/8 R, from 1 to 2     ASCE 7-16 17.5.4.2
func IsolatedReduction(r float64) float64 { return min(2, max(1, 3.0/8*r)) }

// Property holds the factors by which a property of isolators departs from
// nominal: ageing and environment, testing, and manufacture.
type Property struct{ Ageing, Testing, Making float64 }

// ageingShare is the part of the departure by ageing that is counted, since not
// all extremes meet (ASCE 7-16 17.2.8.4, equations 17.2-1 and 17.2-2).
const ageingShare = 0.75

// Upper returns the largest factor on the property.
//
//	lambda_max = (1 + 0.75 (lambda_ae - 1)) lambda_test lambda_spec     equation 17.2-1
func (p Property) Upper() float64 { return (1 + ageingShare*(p.Ageing-1)) * p.Testing * p.Making }

// Lower returns the smallest factor on the property.
//
//	lambda_min = (1 - 0.75 (1 - lambda_ae)) lambda_test lambda_spec     equation 17.2-2
func (p Property) Lower() float64 { return (1 - ageingShare*(1-p.Ageing)) * p.Testing * p.Making }

// Bounds on property factors where nobody has tested the isolators (ASCE 7-16
// 17.2.8.4, from memory).
const (
	UpperUntested = 1.8
	LowerUntested = 0.60
)

// Restores reports whether isolators come back to rest: the force at d exceeds that
// at d/2 by at least 0.025 of weight in N (ASCE 7-16 17.2.4.4). rise is that
// difference over the weight.
func (s *System) Restores(d, weight float64) (rise float64, ok bool) {
	half := d / 2
	low := s.Force(half)
	if half < s.Dy {
		low = half * s.Stiffness(s.Dy)
	}
	rise = (s.Force(d) - low) / weight
	return rise, rise >= 0.025
}
