package hazard

import "plinth/hazard/elementary"

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
