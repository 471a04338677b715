package hazard

var (
	maximumDirectionT = []float64{0.2, 1.0, 5.0}
	maximumDirection  = []float64{1.1, 1.3, 1.5}
)

// MaximumDirection returns the ratio of the spectral acceleration in the
// direction of the largest response to the geometric mean of two perpendicular
// directions, at period t in s:
//
//	1.1 up to 0.2 s, 1.3 at 1.0 s, 1.5 from 5.0 s, straight lines between
//
// ASCE 7-16 21.2 (from memory). The mapped values of ASCE 7 are for the maximum direction.
// Those of EN 1998-1, NZS 1170.5 and most hazard models are geometric means or similar, so a
// source must be converted before the two are compared.
func MaximumDirection(t float64) float64 {
	return interpolate(maximumDirectionT, maximumDirection, t)
}
