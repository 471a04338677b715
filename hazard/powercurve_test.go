package hazard

import "math"

// A powerCurve is a hazard curve that is straight in ln(frequency) - ln(Sa), for
// which the risk integral has a closed form:
//
//	H(a) = k0 a^-k
//
// with a in g and H in 1/yr (Cornell 1996; EN 1998-1 2.1(4) with k about 3).
type powerCurve struct{ k0, k float64 }

// powerCurveThrough returns the power law through two points of a hazard curve.
func powerCurveThrough(a1, h1, a2, h2 float64) powerCurve {
	k := -math.Log(h2/h1) / math.Log(a2/a1)
	return powerCurve{h1 * math.Pow(a1, k), k}
}

func (p powerCurve) frequency(a float64) float64 { return p.k0 * math.Pow(a, -p.k) }

// risk returns the annual frequency of failure in 1/yr (Cornell 1996; Kennedy and
// Short 1994),
//
//	lambda = H(Median) exp(k2 Beta2/2)
//
// Real curves steepen with acceleration, so this exceeds the integral over the
// curve the power law was drawn from, by 5 to 17 % on tried curves.
func (p powerCurve) risk(f Fragility) float64 {
	return p.frequency(f.Median) * math.Exp(p.k*p.k*f.Beta*f.Beta/2)
}
