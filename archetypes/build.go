package archetypes

import "math"

// StiffnessExponent relates storey stiffness to strength, k ~ V^0.7: a frame's members grow in
// depth and in reinforcement together, so stiffness decreases more slowly with height than
// strength. Judgement. The same exponent applies to strengthening, where k grows as f^0.7 for V
// times f.
const StiffnessExponent = 0.7

// forceExponent returns k of the vertical distribution of ASCE 7-16 12.8.3: 1 for
// T <= 0.5 s, 2 for T >= 2.5 s, linear between.
func forceExponent(t float64) float64 { return 1 + min(max((t-0.5)/2, 0), 1) }

// storeyShear returns the shear of storey i of n over the base shear under the
// forces F ~ w h of ASCE 7-16 12.8.3, with equal floor weights and storey
// heights:
//
//	S = sum of j from i+1 to n / sum of j from 1 to n
func storeyShear(i, n int) float64 {
	var above, all float64
	for j := n; j >= 1; j-- {
		all += float64(j)
		if j > i {
			above = all
		}
	}
	return above / all
}

// Build makes s the stick model of the archetype, reusing its storage: N floors
// of equal mass, storeys of equal height,
//
//	m   = W/(N g)
//	V_1 = Vy, V_i = Vy S_i(k from T1) times the profile's factor over the ground storey's
//	k_i ~ S_i(1)^0.7 times the profile's factor, scaled to the period T1
//
// with S_i the storey shear of ASCE 7-16 12.8.3. Strength follows the design forces. Stiffness
// follows one distribution for all periods, so that the modes depend only on the number of
// storeys and the profile and are solved once for each. The chain deforms in shear only: for
// walls, whose drift grows with height, see Continuum.
//
// The archetype must come from Assign.
func (a *Archetype) Build(s *Stick) {
	n := a.Storeys
	c := chainOf(n, a.Profile)
	s.Mass, s.Stiffness = resize(s.Mass, n), resize(s.Stiffness, n)
	s.Strength, s.Height = resize(s.Strength, n), resize(s.Height, n)
	s.PostYield, s.Hardened, s.Degrading, s.Damping = a.PostYield, a.Hardened, a.Degrading, a.Damping
	s.Collapse = a.Limits.Collapse

	mass := a.Weight / gravity / float64(n)
	scale := c.modes.Period[0] / a.Period // k = scale^2 m gives T1
	_, ground := a.Profile.factor(0, n)
	base, top := a.StrengthRatio*a.Weight, 0.0
	exponent := forceExponent(a.Period)
	for i := n - 1; i >= 0; i-- { // from the roof down, so that top sums the forces above
		top += math.Pow(float64(i+1), exponent)
		_, f := a.Profile.factor(i, n)
		s.Strength[i] = top * f / ground
		s.Mass[i], s.Height[i] = mass, a.Height/float64(n)
		s.Stiffness[i] = c.stiffness[i] * scale * scale * mass
	}
	for i := range s.Strength {
		s.Strength[i] *= base / top
	}
	s.Modes = c.modes
	for j := range s.Modes.Count {
		s.Modes.Period[j] = c.modes.Period[j] / scale
	}
}

// resize returns s with length n, reusing its storage where it is large enough.
func resize(s []float64, n int) []float64 {
	if cap(s) < n {
		return make([]float64, n)
	}
	return s[:n]
}
