package rating

import (
	"math"

	"plinth/hazard/elementary"
)

// LifeSafetyReturnPeriod is the return period of the demand of IS-V: 10 % in 50 years, the
// level of life safety of ordinary buildings (NTC 2018 3.2.1, from memory).
const LifeSafetyReturnPeriod = 475 // yr

// NewBuildingReturnPeriod is the return period of the demand on a new building of ordinary
// importance (NZS 1170.0 Table 3.3 and NZS 1170.5 Table 3.5, R = 1, from memory).
const NewBuildingReturnPeriod = 500 // yr

// At returns y at x by a power law between the neighbouring levels.
//
//	y = y_a (x/x_a)^p,  p = ln(y_b/y_a)/ln(x_b/x_a)
//
// xs and ys are positive and xs ascend. Outside xs it returns NaN. The form is that of EN
// 1998-1 2.1(4) for acceleration over return period.
func At(x float64, xs, ys []float64) float64 {
	for i := range xs {
		if x == xs[i] {
			return ys[i]
		}
		if i > 0 && xs[i-1] < x && x < xs[i] {
			return elementary.PowerLaw(x, xs[i-1], xs[i], ys[i-1], ys[i])
		}
	}
	return math.NaN()
}

// Reaching returns the shaking, or the return period, at which demand over capacity reaches 1, by a
// power law between the first level that reaches it and the one before. Below the first level
// demand is taken in proportion. If no level brings the building to its capacity the result is the
// shaking of the last, which is then a lower bound.
//
// ratios and shaking are positive, one for each level, with shaking ascending.
func Reaching(ratios, shaking []float64) float64 {
	for i, r := range ratios {
		switch {
		case math.IsNaN(r):
			return r
		case r < 1:
		case i == 0:
			return shaking[0] / r
		default:
			return elementary.PowerLaw(1, ratios[i-1], r, shaking[i-1], shaking[i])
		}
	}
	return shaking[len(shaking)-1]
}
