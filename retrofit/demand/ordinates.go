package demand

import (
	"math"

	"plinth/hazard"
	"plinth/hazard/elementary"
)

// reduction returns the divisor of a 5 % damped spectral ordinate at damping b.
//
//	B(b) = 4/(5.6 - ln 100b)         b <= 0.5
//	B(b) = B(0.5) (b/0.5)^0.75       above [fit]
//
// ASCE 41-17 2.4.1.7.1 (B1). It gives 1.0024 at 5 %, not 1, which is left so. Damping at or
// below 0 does not occur: b includes that of the frame. The formula goes to infinity near
// 270 %, so a power replaces it above 50 %.
func reduction(b float64) float64 {
	if b <= reductionKnee {
		return 4 / (5.6 - elementary.Log(100*b))
	}
	return 4 / (5.6 - elementary.Log(100*reductionKnee)) * elementary.Pow(b/reductionKnee, reductionRate)
}

// ordinate returns the spectral acceleration in m/s2 at period t in s and
// damping b, from the 5 % damped spectrum. B is that of the damping's worth in the shaking at hand
// (hazard.Spectrum.Worth).
//
//	Sa(T, b) = Sa/B                                            T >= TB
//	Sa(T, b) = PGA + (Sa - PGA)/B - PGA (1 - 1/B) T/TB         T < TB: a rigid body follows the ground
//
// On a straight rise this is EN 1998-1 equation 3.2 with eta = 1/B. Damping below 5 % lessens no
// ordinate, whatever the rise.
func ordinate(sp *hazard.Spectrum, t, b float64) float64 {
	sa, divisor := sp.Sa(t), reduction(sp.Worth(b, t))
	if t >= sp.TB {
		return sa / divisor * hazard.Gravity
	}
	rising := sp.PGA + (sa-sp.PGA)/divisor - sp.PGA*(1-1/divisor)*t/sp.TB
	if divisor < 1 {
		rising = max(rising, sa)
	}
	return rising * hazard.Gravity
}

// displacementOf returns the spectral displacement in m of an acceleration in
// m/s2 at period t in s.
//
//	Sd = Sa (T/2 pi)^2
func displacementOf(sa, t float64) float64 {
	x := t / (2 * math.Pi)
	return sa * x * x
}

// read fills Sa and Sd of every mode from its period and damping.
func (w *Work) read(sp *hazard.Spectrum) {
	t := &w.Trace
	for j := range t.Count {
		t.Modes[j].read(sp)
	}
	if !sp.Covers(t.Modes[0].Period) { // the first period is the longest
		w.status |= Extrapolated
	}
}

// read fills Sa and Sd of m from its period and damping.
func (m *Mode) read(sp *hazard.Spectrum) {
	m.Sa = ordinate(sp, m.Period, m.Damping)
	m.Sd = displacementOf(m.Sa, m.Period)
}
