package consequence

import "math"

// PresentFactor returns the present value of 1 a year, paid at the end of each
// of n years at discount rate r.
//
//	(1 - (1 + r)^-n)/r, and n for r = 0
//
// r > -1 is a fraction for a year; n >= 0 is in years and need not be whole. Common practice of
// engineering economy. Outside the domain the result is NaN.
func PresentFactor(r, n float64) float64 {
	switch {
	case !(r > -1) || !(n >= 0):
		return math.NaN()
	case r == 0:
		return n
	}
	return -math.Expm1(-n*math.Log1p(r)) / r
}

// The rates at which every result is shown, besides the plan's own.
const (
	LowRate  = 0.03 // OMB Circular A-94 of 1992 with A-4 of 2003, from memory
	HighRate = 0.07 // the same
)

// Benefit is the return of a measure over its life at one discount rate.
type Benefit struct {
	Rate    float64
	Factor  float64 // present value of 1 a year over the life
	Present float64 // currency, present value of the annual loss avoided
	Net     float64 // currency, Present less cost
	Ratio   float64 // Present over cost; NaN if the cost is 0
}

// Appraise returns the benefit of a measure that avoids an annual loss, for its cost and life,
// at the plan's rate, LowRate and HighRate, in this order. A measure that adds loss has a
// negative benefit.
//
//	present = factor x avoided;  net = present - cost;  ratio = present/cost
func Appraise(avoided, cost, life, rate float64) [3]Benefit {
	var out [3]Benefit
	for i, r := range [3]float64{rate, LowRate, HighRate} {
		f := PresentFactor(r, life)
		b := Benefit{Rate: r, Factor: f, Present: f * avoided, Net: f*avoided - cost, Ratio: math.NaN()}
		if cost > 0 {
			b.Ratio = b.Present / cost
		}
		out[i] = b
	}
	return out
}
