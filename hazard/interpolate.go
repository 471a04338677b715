package hazard

import "math"

// interpolate returns y at x on the straight lines through the points (xs, ys), xs ascending,
// and the end value outside them. The standards read their tables so ("use straight-line
// interpolation"; "<=" and ">=" in the first and the last column). NaN gives NaN.
func interpolate(xs, ys []float64, x float64) float64 {
	last := len(xs) - 1
	if x <= xs[0] {
		return ys[0]
	}
	if x >= xs[last] {
		return ys[last]
	}
	i := 1
	for xs[i] < x {
		i++
	}
	if xs[i] == x {
		return ys[i]
	}
	w := (x - xs[i-1]) / (xs[i] - xs[i-1])
	return ys[i-1] + w*(ys[i]-ys[i-1])
}

// pow34 returns x to the power 3/4, x >= 0.
func pow34(x float64) float64 {
	r := math.Sqrt(x)
	return r * math.Sqrt(r)
}
