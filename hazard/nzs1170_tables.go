package hazard

import (
	"math"

	"plinth/hazard/elementary"
)

var (
	nzs1170Years   = []float64{20, 25, 50, 100, 250, 500, 1000, 2000, 2500}
	nzs1170Factors = []float64{0.20, 0.25, 0.35, 0.5, 0.75, 1.0, 1.3, 1.7, 1.8}
)

// NZS1170ReturnFactor returns the return period factor R of NZS 1170.5 Table 3.5
// for a return period in yr.
//
// The table lists 20, 25, 50, 100, 250, 500, 1000, 2000 and 2500 yr. Between
// them ln(R) is taken linear in ln(years), which is this package's rule and not
// the standard's. Outside them the nearer end is returned with BelowRange or
// AboveRange.
func NZS1170ReturnFactor(years float64) (float64, Status) {
	last := len(nzs1170Years) - 1
	switch {
	case !(years >= nzs1170Years[0]):
		return nzs1170Factors[0], BelowRange
	case years > nzs1170Years[last]:
		return nzs1170Factors[last], AboveRange
	}
	i := 1
	for nzs1170Years[i] < years {
		i++
	}
	x0, x1 := nzs1170Years[i-1], nzs1170Years[i]
	y0, y1 := nzs1170Factors[i-1], nzs1170Factors[i]
	switch years {
	case x0:
		return y0, 0
	case x1:
		return y1, 0
	}
	return elementary.PowerLaw(years, x0, x1, y0, y1), 0
}

// endRatio is the ratio of return periods over which the slope at an end of Table 3.5 is taken:
// the first two rows, 0.20 and 0.25, are too coarse for one (judgement).
const endRatio = 1.5

// ReturnShape returns the logarithm of R of NZS 1170.5 Table 3.5 for a return period in yr, carried
// on beyond 20 and 2500 yr by the slope at the end: how shaking grows with return period where
// hazard is high and known. Hazard curves are hollow so everywhere: they fall the faster the more
// frequent the shaking. Stretched to the slope of another hazard at 475 to 2475 yr it is within
// 10 % of a printed curve of the USGS from 10 yr on.
func ReturnShape(years float64) float64 {
	first, last := nzs1170Years[0], nzs1170Years[len(nzs1170Years)-1]
	end := min(max(years, first), last)
	r, _ := NZS1170ReturnFactor(end)
	if years == end {
		return math.Log(r)
	}
	beside, _ := NZS1170ReturnFactor(min(max(years, first*endRatio), last/endRatio))
	return math.Log(r) + math.Abs(math.Log(r/beside))/math.Log(endRatio)*math.Log(years/end)
}
