package demand

import (
	"math"

	"plinth/archetypes"
	"plinth/hazard/elementary"
)

// A storey of a frame with a yielding device: both elastic, the device yielding, both yielding.

// pair returns the secant stiffness at drift x of a frame of stiffness k with a device of stiffness
// kd and yield force fd, and their damping averaged over the amplitudes up to x.
func pair(k, kd, fd, x float64) (stiffness, damping float64) {
	if kd*x <= fd {
		return k + kd, 0
	}
	a, kappa := x*kd/fd, kd/k
	return k + kd/a, max(0, 2/(math.Pi*a)*((1+kappa)*elementary.Log((a+kappa)/(1+kappa))-elementary.Log(a)))
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

// harden sets what forces follow from once the drifts at roof amplitude u in m are known: the
// acceleration of the first mode is that of the storeys as they are when the frame yields, and
// past it devices may still be elastic or have yielded on the way.
func (w *Work) harden(st *archetypes.Stick, d *Yielding, u float64) {
	first := &w.Trace.Modes[0]
	force, soft := 0.0, 0.0
	for i, k := range st.Stiffness {
		x := u * w.amplitude[i]
		force += w.k[i] * x * x
		soft += w.soft[i] * x * x
		kd, fd := d.device(i)
		w.kr[i] += past(kd, fd, st.Strength[i]/k, x)
	}
	if soft > 0 {
		first.Sa *= force / soft
	}
}
