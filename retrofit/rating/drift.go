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
			return Rating{Band: bands[i].Name, Value: figures(ratios[1])}
		}
	}
	return Rating{Band: bands[len(ratios)].Name, Value: figures(ratios[1])}
}

// NewBuilding returns the rating by percentage of new-building demand.
//
//	% = 100 capacity/demand = 100/ratio
//
// ratio is the shaking of NewBuildingReturnPeriod over that in which the building reaches its
// capacity at life safety, both as Sa at its period. NZS 1170.5:2004 5.2 and the guidelines for
// assessment of 2017 compare strength times k_mu/Sp with C(T) (from memory), which is a ratio of
// elastic spectra and so of shaking. A ratio of drifts is lower in stiff buildings that yield,
// whose drift grows faster than shaking. An importance other than ordinary (R above 1) is not
// considered.
// A ratio that is not positive gives no rating.
func NewBuilding(ratio float64) Rating {
	if !(ratio > 0) || math.IsInf(ratio, 1) {
		return none()
	}
	bands, percent := NZSPercent.Bands("percent"), 100/ratio
	return Rating{Band: bands[place(bands, percent)].Name, Value: figures(percent)}
}
