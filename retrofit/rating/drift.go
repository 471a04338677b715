package rating

import "math"

// LimitState returns the rating by ASCE 41: the best limit state whose median limit is not
// below the median demand of the design level, and demand over capacity for life safety.
//
//	demand/capacity = drift/limit  for immediate occupancy, life safety, collapse prevention
//
// ASCE 41-17 2.3.1 and 7.6, from memory, compare forces and deformations of each component;
// here the largest storey drift represents them. A ratio that is NaN or negative gives no
// rating.
func LimitState(ratios [3]float64) Rating {
	bands := ASCE41.Bands("ratio")
	for i, r := range ratios {
		if !(r >= 0) {
			return none()
		}
		if bands[i].takes(r) {
			return Rating{bands[i].Name, figures(ratios[1])}
		}
	}
	return Rating{bands[len(ratios)].Name, figures(ratios[1])}
}

// NewBuilding returns the rating by percentage of new-building demand.
//
//	% = 100 capacity/demand = 100/ratio
//
// ratio is the demand at NewBuildingReturnPeriod over the capacity at life safety, both in
// storey drift. NZS 1170.5:2004 5.2 compares strength with C(T) Sp/k_mu (from memory); drift
// already includes ductility. An importance other than ordinary (R above 1) is not considered.
// A ratio that is not positive gives no rating.
func NewBuilding(ratio float64) Rating {
	if !(ratio > 0) || math.IsInf(ratio, 1) {
		return none()
	}
	bands, percent := NZSPercent.Bands("percent"), 100/ratio
	return Rating{bands[place(bands, percent)].Name, figures(percent)}
}
