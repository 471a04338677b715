package hazard

import (
	"math"
	"slices"

	"plinth/hazard/elementary"
)

// Gravity is the standard acceleration of gravity in m/s2 (ISO 80000-3, by
// definition of the 3rd CGPM, 1901). It converts g, the unit of this package,
// to the SI units of the demand calculation.
const Gravity = 9.80665

// Spectrum is a horizontal elastic response spectrum at one site for one return period: peak
// ground acceleration at T = 0, a straight line in T up to the first node, straight lines in
// ln(Sa) - ln(T) between nodes, and a constant spectral displacement (Sa ~ 1/T2) beyond the
// last.
//
// This form is exact for the code spectra, whose branches are a straight rise, a plateau and
// powers of T, and is the usual reading of a tabulated uniform-hazard spectrum. The damping is
// 5 % of critical.
//
// The zero value is no spectrum: Sa is 0 everywhere.
type Spectrum struct {
	PGA float64 // peak ground acceleration, g
	TB  float64 // s, end of the rising branch
	TC  float64 // s, end of the constant-acceleration branch

	Shaking // how long it lasts and whether it is a pulse; Set forgets it

	t, lnT   []float64 // node periods, ascending, > 0: an Axis, never written, or ownT
	lnSa     []float64 // ln of Sa at the nodes
	ownT     []float64 // storage for node periods used by this spectrum alone
	ownLnT   []float64
	firstSa  float64 // Sa at the first node, g; 0 if not yet computed from lnSa
	lastT    float64 // s
	lastSaT2 float64 // Sa T2 at the last node; 0 if not yet computed
	end      float64 // s, longest period the spectrum holds for: lastT, or that of a code's form
}

// An Axis is a set of node periods with their logarithms, shared by all spectra
// read from one source so that a lookup allocates and recomputes nothing.
type Axis struct{ T, LnT []float64 }

// NewAxis returns the axis of the periods t in s, which must be positive and
// strictly ascending; it panics otherwise, since readers check before.
func NewAxis(t []float64) Axis {
	a := Axis{T: append([]float64(nil), t...), LnT: make([]float64, len(t))}
	for i, v := range t {
		if !(v > 0) || i > 0 && v <= t[i-1] {
			panic("hazard: periods of an axis must be positive and ascending")
		}
		a.LnT[i] = math.Log(v)
	}
	return a
}

// Set makes s the spectrum through the nodes (axis.T, exp(lnSa)) with peak
// ground acceleration pga in g. lnSa is copied; s reuses its own storage.
//
// The corner periods follow from the nodes as in ASCE 7-22 21.4 without its 90 % factors, which
// cancel: TC = max(T Sa)/max(Sa) and TB = 0.2 TC (11.4.5.2: T0 = 0.2 Ts). A code's form that
// states its corners sets TB and TC afterwards.
func (s *Spectrum) Set(axis Axis, pga float64, lnSa []float64) {
	if len(lnSa) != len(axis.T) || len(lnSa) == 0 {
		panic("hazard: a spectrum needs one ordinate for each period")
	}
	s.PGA, s.t, s.lnT, s.Shaking = pga, axis.T, axis.LnT, Shaking{}
	s.lnSa = append(s.lnSa[:0], lnSa...)
	lnT := axis.LnT[:len(lnSa)]
	top, topV := lnSa[0], lnSa[0]+lnT[0] // ln of max Sa and max T Sa
	for i := 1; i < len(lnSa); i++ {
		l := lnSa[i]
		if l > top {
			top = l
		}
		if v := l + lnT[i]; v > topV {
			topV = v
		}
	}
	s.firstSa, s.lastSaT2 = 0, 0
	s.lastT = axis.T[len(lnSa)-1]
	s.end = s.lastT
	s.TC = math.Exp(topV - top)
	s.TB = 0.2 * s.TC
}

// Sa returns the 5 % damped spectral acceleration in g at period t in s; NaN if t is NaN.
func (s *Spectrum) Sa(t float64) float64 {
	n := len(s.t)
	switch {
	case n == 0:
		return 0
	case t <= 0:
		return s.PGA
	case t < s.t[0]:
		return s.PGA + (s.first()-s.PGA)*t/s.t[0]
	case t >= s.lastT:
		return s.last() / (t * t)
	}
	i, j := 0, n-1 // t <= s.t[j], and s.t[i-1] < t where i > 0
	for i < j {
		if m := (i + j) / 2; s.t[m] < t {
			i = m + 1
		} else {
			j = m
		}
	}
	if s.t[i] == t {
		return elementary.Exp(s.lnSa[i])
	}
	if i == 0 { // t is NaN
		return t
	}
	w := (elementary.Log(t) - s.lnT[i-1]) / (s.lnT[i] - s.lnT[i-1])
	return elementary.Exp(s.lnSa[i-1] + w*(s.lnSa[i]-s.lnSa[i-1]))
}

// first returns Sa at the first node. It is computed on first use, since few lookups need it.
func (s *Spectrum) first() float64 {
	if s.firstSa > 0 {
		return s.firstSa
	}
	return math.Exp(s.lnSa[0])
}

// last returns Sa T2 at the last node.
func (s *Spectrum) last() float64 {
	if s.lastSaT2 > 0 {
		return s.lastSaT2
	}
	n := len(s.lnSa) - 1
	return math.Exp(s.lnSa[n] + 2*s.lnT[n])
}

// Covers reports whether the spectrum is defined at period t: up to the last node, or the end
// of the code's last branch (SetFourBranch). Beyond, Sa is extrapolated at constant
// displacement.
func (s *Spectrum) Covers(t float64) bool { return len(s.t) > 0 && t <= s.end }

// FallsFrom returns the period in s of the last node beyond which Sa does not rise; 0 for the
// zero value.
func (s *Spectrum) FallsFrom() float64 {
	for i := len(s.lnSa) - 1; i > 0; i-- {
		if s.lnSa[i] > s.lnSa[i-1] {
			return s.t[i]
		}
	}
	if len(s.t) == 0 {
		return 0
	}
	return s.t[0]
}

// Least returns the least ordinate in g at periods between from and to in s: at an end or at a
// node between, since Sa has no other minima.
func (s *Spectrum) Least(from, to float64) float64 {
	least := min(s.Sa(from), s.Sa(to))
	for i, t := range s.t {
		if from < t && t < to {
			least = min(least, elementary.Exp(s.lnSa[i]))
		}
	}
	return least
}

// Peak returns the largest ordinate in g, peak ground acceleration included.
func (s *Spectrum) Peak() float64 {
	if len(s.lnSa) == 0 {
		return 0
	}
	return max(s.PGA, math.Exp(slices.Max(s.lnSa)))
}

// Nodes returns the node periods in s and the spectral accelerations in g.
func (s *Spectrum) Nodes() (t, sa []float64) {
	sa = make([]float64, len(s.t))
	for i, l := range s.lnSa {
		sa[i] = math.Exp(l)
	}
	return append([]float64(nil), s.t...), sa
}

// Scale multiplies every ordinate, the peak ground acceleration included, by
// factor > 0. The corner periods stay.
func (s *Spectrum) Scale(factor float64) {
	s.PGA *= factor
	s.firstSa *= factor
	s.lastSaT2 *= factor
	ln := math.Log(factor)
	for i := range s.lnSa {
		s.lnSa[i] += ln
	}
}
