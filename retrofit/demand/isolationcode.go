package demand

// The parts of ASCE 7-16 chapter 17 for the calculation sheet and the feasibility rules.
// Lengths in m, periods in s, accelerations in g, gravity in m/s2 as given by the caller.
// Equation and clause numbers are from memory.

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

// Restores reports whether isolators recentre: the force at d exceeds that at d/2 by at least
// 0.025 of weight in N (ASCE 7-16 17.2.4.4). rise is that difference over the weight.
func (s *System) Restores(d, weight float64) (rise float64, ok bool) {
	rise = (s.Force(d) - s.Force(d/2)) / weight
	return rise, rise >= 0.025
}
