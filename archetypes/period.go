package archetypes

import "math"

// PeriodLaw gives the period from the height,
//
//	T = Ct H^X
//
// with T in s and H the height above the base in m.
type PeriodLaw struct{ Ct, X float64 }

// At returns the period in s at height h in m, which must be positive.
func (l PeriodLaw) At(h float64) float64 { return l.Ct * math.Pow(h, l.X) }

// Range returns the lower and upper bound of the period in s of a building of the system with
// height h in m, the shorter first.
//
// For moment frames they are the bounds of Goel and Chopra (1997), one standard deviation
// either side of a regression on periods from records of buildings in strong shaking. These
// buildings were cracked and partly yielded, so there is no further reduction for cracking. For
// other systems the table names the source of its bounds.
func (t *SystemTraits) Range(h float64) (lower, upper float64) {
	a, b := t.PeriodLower.At(h), t.PeriodUpper.At(h)
	return min(a, b), max(a, b)
}

// period returns the median period and its ln-dispersion,
//
//	T = sqrt(Tl Tu), beta = max(beta of the table, ln(Tu/Tl)/2)
//
// with the bounds taken as one standard deviation either side of a lognormal median. Code
// formulas are deliberately lower bounds, since a short period is safe in design; here the
// median is wanted.
func (t *SystemTraits) period(h float64) (median, lower, upper, beta float64) {
	lower, upper = t.Range(h)
	return math.Sqrt(lower * upper), lower, upper, max(t.PeriodBeta, math.Log(upper/lower)/2)
}
