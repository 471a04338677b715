package demand

import "math"

// The substitute structure of displacement-based design (Priestley, Calvi and
// Kowalsky 2007, Displacement-Based Seismic Design of Structures, chapters 3 and 5;
// formulas from memory), which a calculation sheet prints beside the method of this
// package. None of it enters a Response.

// SubstituteDamping returns the damping of the substitute structure of
// displacement-based design at ductility mu.
//
//	xi = 0.05 + C (mu - 1)/(pi mu)
//
// C is 0.444 for concrete walls, 0.565 for concrete
// frames, 0.577 for steel frames, 0.670 elastic-plastic, 0.186 flag-shaped.
func SubstituteDamping(c, mu float64) float64 {
	return 0.05 + c*(max(1, mu)-1)/(math.Pi*max(1, mu))
}

// A Substitute is a frame at its design drift as one oscillator.
type Substitute struct {
	Displacement float64 // m [Dd]
	Mass         float64 // kg [me]
	Height       float64 // m [He]
}

// SubstituteFrame returns the substitute structure of a frame of floors of mass in
// kg at height in m above the base, lowest first, at the design drift ratio theta.
//
//	d_i = theta H_i (4 Hn - H_i)/(4 Hn - H_1)
//	Dd  = sum m d2/sum m d,  me = sum m d/Dd,  He = sum m d H/sum m d
func SubstituteFrame(mass, height []float64, theta float64) Substitute {
	top, first := height[len(height)-1], height[0]
	var sum, square, moment float64
	for i, m := range mass {
		h := height[i]
		d := theta * h * (4*top - h) / (4*top - first)
		sum += m * d
		square += m * d * d
		moment += m * d * h
	}
	return Substitute{Displacement: square / sum, Mass: sum * sum / square, Height: moment / sum}
}

// Period returns the effective period in s at which the substitute structure
// reaches its displacement, for a corner displacement dc in m at corner period tc
// in s of the 5 % spectrum, linear up to there, and damping xi.
//
//	Te = tc Dd/(R dc),  R = sqrt(0.07/(0.02 + xi))
func (s Substitute) Period(tc, dc, xi float64) float64 {
	return tc * s.Displacement / (math.Sqrt(0.07/(0.02+xi)) * dc)
}
