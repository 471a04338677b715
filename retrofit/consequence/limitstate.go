package consequence

import (
	"math"

	"plinth/hazard/elementary"
)

// LimitState is a performance level of ASCE 41 (2.3.1). The structure is beyond it when the
// largest storey drift ratio exceeds its median limit, which comes from the structural system
// (FEMA 356 Table C1-3).
type LimitState uint8

// The limit states, in the order in which they are exceeded.
const (
	ImmediateOccupancy LimitState = iota
	LifeSafety
	CollapsePrevention
	NumLimitStates
)

// String returns the name of ASCE 41.
func (s LimitState) String() string {
	return [...]string{"immediate occupancy", "life safety", "collapse prevention", "none"}[s]
}

// Dispersion returns the square root of the sum of squares of independent ln
// standard deviations, as FEMA P-695 7.3.4 combines them (from memory).
//
//	total = sqrt(sum part^2)
func Dispersion(parts ...float64) float64 {
	var s float64
	for _, p := range parts {
		s += p * p
	}
	return math.Sqrt(s)
}

// lnDemand returns the logarithm of a demand; -Inf for 0 and below.
func lnDemand(x float64) float64 {
	if x <= 0 {
		return math.Inf(-1)
	}
	return elementary.Log(x)
}

// fragility is a lognormal probability prepared for evaluation, with the weight of its loss.
type fragility struct{ lnMedian, scale, weight float64 }

// newFragility returns the fragility of a median and a dispersion. A dispersion of 0 becomes
// 1e-12, to avoid a division by 0.
func newFragility(lnMedian, dispersion, weight float64) fragility {
	return fragility{lnMedian, 1 / max(dispersion, 1e-12), weight}
}

// at returns the probability of exceedance at the logarithm of demand.
func (f *fragility) at(ln float64) float64 { return normal((ln - f.lnMedian) * f.scale) }
