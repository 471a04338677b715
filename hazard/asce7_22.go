package hazard

import "math"

// The rules of ASCE 7-22 21.4 for its parameters.
const (
	asce22Share = 0.90  // of the largest ordinate
	asce22Vs    = 442.0 // m/s (1,450 ft/s), above which the 1 s range ends at 2 s
)

// ASCE722Parameters returns SDS and SD1 in g from a multi-period design response
// spectrum (ASCE 7-22 21.4, from memory), for the average shear wave velocity
// vs30 in m/s:
//
//	SDS = 90 % of the largest Sa     0.2 s <= T <= 5 s
//	SD1 = 90 % of the largest T Sa   1 s <= T <= 2 s where vs30 > 442 m/s, else to 5 s
//	SD1 >= Sa(1 s)
//
// With the MCER spectrum the results are SMS and SM1. A spectrum is a power of T between nodes,
// so the largest ordinates are at nodes or at the ends of a range and the result is exact.
func ASCE722Parameters(s *Spectrum, vs30 float64) (sds, sd1 float64) {
	end := 5.0
	if vs30 > asce22Vs {
		end = 2.0
	}
	sa := func(t float64) float64 { return s.Sa(t) }
	velocity := func(t float64) float64 { return t * s.Sa(t) }
	sds = asce22Share * s.largest(sa, 0.2, 5)
	sd1 = max(asce22Share*s.largest(velocity, 1, end), s.Sa(1))
	return sds, sd1
}

// largest returns the largest value of f at the nodes within [from, to] and at
// its ends.
func (s *Spectrum) largest(f func(t float64) float64, from, to float64) float64 {
	m := math.Max(f(from), f(to))
	for _, t := range s.t {
		if t > from && t < to {
			m = math.Max(m, f(t))
		}
	}
	return m
}
