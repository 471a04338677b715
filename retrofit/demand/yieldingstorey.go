package demand

import (
	"math"

	"plinth/archetypes"
	"plinth/hazard/elementary"
)

// A storey of a frame with a yielding device: both elastic, the device yielding, both yielding.

// averaged returns the damping of a frame of stiffness k with a device of stiffness kd and yield force
// fd, averaged over the amplitudes up to x.
func averaged(k, kd, fd, x float64) float64 {
	if kd*x <= fd {
		return 0
	}
	a, kappa := x*kd/fd, kd/k
	return max(0, 2/(math.Pi*a)*((1+kappa)*elementary.Log((a+kappa)/(1+kappa))-elementary.Log(a)))
}

// past returns the stiffness of a device from drift dy, at which the frame yields, to drift x: 0 for
// one that has yielded before, less than its own for one that yields on the way.
func past(kd, fd, dy, x float64) float64 {
	switch {
	case kd*dy >= fd:
		return 0
	case x > dy*(1+rounding):
		return (min(fd, kd*x) - kd*dy) / (x - dy)
	}
	return kd
}

// harden sets the post-yield stiffnesses at roof amplitude u in m: past the yield of the frame devices
// may still be elastic or have yielded on the way.
func (w *Work) harden(st *archetypes.Stick, d *Yielding, u float64) {
	for i, k := range st.Stiffness {
		kd, fd := d.device(i)
		w.kr[i] += past(kd, fd, st.Strength[i]/k, u*w.amplitude[i])
	}
}
