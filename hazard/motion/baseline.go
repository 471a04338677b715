package motion

// correctBaseline changes accel so that velocity and displacement of the ground end at zero. It
// subtracts weight times a line in time: the least change, made where shaking is strong, and
// none where there is none.
//
//	a <- a - w (c0 + c1 t),  integral of a dt = 0,  integral of a t dt = 0
//
// The second integral is that of displacement, since u(T) is the integral of (T - t) a. weight
// has one value for each sample. The integrals are those of straight lines between samples,
// with a zero sample added at either end.
func correctBaseline(accel, weight []float64) {
	var a0, a1, w0, w1, w2 float64
	for i, a := range accel {
		t := float64(i)
		a0 += a
		a1 += a * t
		w0 += weight[i]
		w1 += weight[i] * t
		w2 += weight[i] * t * t
	}
	det := w0*w2 - w1*w1
	if det <= 0 {
		return
	}
	c0 := (a0*w2 - a1*w1) / det
	c1 := (w0*a1 - w1*a0) / det
	for i := range accel {
		accel[i] -= weight[i] * (c0 + c1*float64(i))
	}
}
