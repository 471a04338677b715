package hazard

import (
	"fmt"
	"math"
	"sort"
)

// A Curve is a hazard curve at one site for one spectral period: the annual
// frequency of exceeding an acceleration. Between its points ln(frequency) is
// linear in ln(Sa). A Curve is never changed once made.
type Curve struct {
	lnSa   []float64 // ascending
	lnFreq []float64 // descending
}

// NewCurve returns the curve through points of acceleration sa in g, ascending,
// and annual frequency of exceedance freq in 1/yr, descending. Frequencies of
// zero at the end, where a calculation underflowed, are left out. At least two
// points must remain.
func NewCurve(sa, freq []float64) (*Curve, error) {
	if len(sa) != len(freq) {
		return nil, fmt.Errorf("hazard curve with %d accelerations and %d frequencies", len(sa), len(freq))
	}
	n := len(freq)
	for n > 0 && freq[n-1] == 0 {
		n--
	}
	if n < 2 {
		return nil, fmt.Errorf("hazard curve with %d points of positive frequency: it needs two", n)
	}
	c := &Curve{lnSa: make([]float64, n), lnFreq: make([]float64, n)}
	for i := range n {
		if !(sa[i] > 0) || !(freq[i] > 0) || math.IsInf(sa[i]+freq[i], 0) {
			return nil, fmt.Errorf("hazard curve, point %d: %g g at %g 1/yr: both must be positive", i+1,
				sa[i], freq[i])
		}
		if i > 0 && (sa[i] <= sa[i-1] || freq[i] >= freq[i-1]) {
			return nil, fmt.Errorf("hazard curve, point %d: %g g at %g 1/yr after %g g at %g 1/yr: "+
				"accelerations must rise and frequencies fall", i+1, sa[i], freq[i], sa[i-1], freq[i-1])
		}
		c.lnSa[i], c.lnFreq[i] = math.Log(sa[i]), math.Log(freq[i])
	}
	return c, nil
}

// Curve returns the hazard curve of a site at period t in s, through its levels.
func (s *Site) Curve(t float64) (*Curve, error) {
	sa, freq := make([]float64, len(s.Spectra)), make([]float64, len(s.Spectra))
	for i := range s.Spectra {
		sa[i], freq[i] = s.Spectra[i].Sa(t), 1/s.ReturnPeriod[i]
	}
	return NewCurve(sa, freq)
}

// Frequency returns the annual frequency in 1/yr of exceeding sa in g. Outside
// the curve it returns the nearer end with BelowRange (sa below the first point,
// the frequency is at least that) or AboveRange (at most that).
func (c *Curve) Frequency(sa float64) (float64, Status) {
	n := len(c.lnSa) - 1
	x := math.Log(sa)
	switch {
	case !(x >= c.lnSa[0]):
		return math.Exp(c.lnFreq[0]), BelowRange
	case x > c.lnSa[n]:
		return math.Exp(c.lnFreq[n]), AboveRange
	}
	i := max(1, sort.SearchFloat64s(c.lnSa, x))
	return math.Exp(between(x, c.lnSa[i-1], c.lnSa[i], c.lnFreq[i-1], c.lnFreq[i])), 0
}

// Sa returns the acceleration in g exceeded with annual frequency freq in 1/yr.
// Outside the curve it returns the nearer end with BelowRange (a return period
// shorter than the curve's) or AboveRange (longer; the acceleration is at least
// that).
func (c *Curve) Sa(freq float64) (float64, Status) {
	n := len(c.lnFreq) - 1
	y := math.Log(freq)
	switch {
	case y > c.lnFreq[0]:
		return math.Exp(c.lnSa[0]), BelowRange
	case !(y >= c.lnFreq[n]):
		return math.Exp(c.lnSa[n]), AboveRange
	}
	i := max(1, sort.Search(n, func(i int) bool { return c.lnFreq[i] <= y }))
	return math.Exp(between(y, c.lnFreq[i-1], c.lnFreq[i], c.lnSa[i-1], c.lnSa[i])), 0
}

// between returns y at x on the straight line through two points, exactly y0 or
// y1 at its ends.
func between(x, x0, x1, y0, y1 float64) float64 {
	switch x {
	case x0:
		return y0
	case x1:
		return y1
	}
	return y0 + (x-x0)/(x1-x0)*(y1-y0)
}
