package demand

import (
	"math"

	"plinth/hazard"
)

// Published relations between elastic and yielding response, which a calculation
// sheet prints beside the method of this package. None enters a Response.

// RuizGarciaMiranda returns the ratio CR of inelastic to elastic displacement at
// strength ratio r and period t in s, for site class 'B', 'C' or 'D' of NEHRP; any
// other class is read as 'D'. r below 1 is 1.
//
//	CR = 1 + (1/(a (T/Ts)^b) - 1/c)(R - 1)
//
// Ruiz-Garcia and Miranda 2003, Earthquake Engineering and Structural Dynamics
// 32:1237.
func RuizGarciaMiranda(class hazard.SiteClass, r, t float64) float64 {
	a, b, c, ts := 57.0, 1.85, 60.0, 1.05
	switch class {
	case 'B':
		a, b, c, ts = 42, 1.60, 45, 0.75
	case 'C':
		a, b, c, ts = 48, 1.80, 50, 0.85
	}
	if r <= 1 {
		return 1
	}
	return 1 + (1/(a*math.Pow(t/ts, b))-1/c)*(r-1)
}

// FEMA356C1 returns C1 of FEMA 356 3.3.3.3.2 at strength ratio r and period t in
// s, for a spectrum whose plateau ends at ts in s.
//
//	C1 = 1                         T >= Ts
//	C1 = (1 + (R - 1) Ts/T)/R      T < Ts, at most 1.5
func FEMA356C1(r, t, ts float64) float64 {
	if t >= ts || r <= 1 {
		return 1
	}
	return min(1.5, (1+(r-1)*ts/t)/r)
}

// EquivalentLinear returns the effective period over the initial one and the
// effective damping of an oscillator at ductility mu.
//
//	mu < 4:    b = 5 % + 4.9 (mu - 1)2 - 1.1 (mu - 1)3,  Teff/T0 = 1 + 0.20 (mu - 1)2 - 0.038 (mu - 1)3
//	mu < 6.5:  b = 5 % + 14 + 0.32 (mu - 1),             Teff/T0 = 1 + 0.28 + 0.13 (mu - 1)
//	above:     b = 5 % + 19 (0.64 (mu - 1) - 1)/(0.64 (mu - 1))2 (Teff/T0)2,
//	           Teff/T0 = 1 + 0.89 (sqrt((mu - 1)/(1 + 0.05 (mu - 2))) - 1)
//
// FEMA 440 (2005) 6.2, the form for any hysteresis; periods from 0.2 to 2 s. mu
// below 1 is elastic.
func EquivalentLinear(mu float64) (period, damping float64) {
	x := max(0, mu-1)
	switch {
	case mu < 4:
		return 1 + 0.20*x*x - 0.038*x*x*x, 0.05 + 0.049*x*x - 0.011*x*x*x
	case mu <= 6.5:
		return 1.28 + 0.13*x, 0.05 + 0.14 + 0.0032*x
	}
	period = 1 + 0.89*(math.Sqrt(x/(1+0.05*(mu-2)))-1)
	y := 0.64 * x
	return period, 0.05 + 0.19*(y-1)/(y*y)*period*period
}

// HystereticDamping returns the loop adjustment factor qH and the hysteretic
// damping of a yielding frame with dampers at ductility mu, for a spectrum corner
// ts and a first period t1 in s and an inherent damping bi, counted up to 3 %.
//
//	qH  = 0.67 Ts/T1, from 0.5 to 1
//	bHD = qH (0.64 - bI)(1 - 1/mu)
//
// ASCE 7-16 18.7.3.
func HystereticDamping(ts, t1, bi, mu float64) (loop, damping float64) {
	loop = min(1, max(0.5, 0.67*ts/t1))
	return loop, loop * (0.64 - min(bi, 0.03)) * (1 - 1/max(1, mu))
}
