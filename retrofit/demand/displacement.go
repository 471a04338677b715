package demand

import (
	"math"

	"plinth/hazard"
	"plinth/hazard/elementary"
)

// displace computes the first-mode drifts, their limit by yielding, and the roof displacement.
//
//	d_i = |G1 (phi_i1 - phi_(i-1)1)| Sd1
//	s   = min(1, min V_i/(k_i d_i)),  mu = 1/s
//	u   = C G1 Sd1
func (w *Work) displace(sp *hazard.Spectrum) {
	t := &w.Trace
	n := len(t.Stiffness)
	t.First = resize(t.First, n)
	m := &t.Modes[0]
	elastic := math.Abs(m.Gamma) * m.Sd
	below, s := 0.0, 1.0
	for i, phi := range m.Shape[:n] {
		d := math.Abs(phi-below) * elastic
		below = phi
		t.First[i] = d
		if force := t.Stiffness[i] * d; force*s > t.Strength[i] {
			s = t.Strength[i] / force
		}
	}
	t.YieldFraction, t.StrengthRatio = s, 1/s
	t.C1, t.C2, t.CL = w.fit.ratio(t.StrengthRatio, m.Period, sp.TC, t.Degrading, m.Viscous)
	t.C = t.C1 * t.C2 * t.CL
	t.Roof = t.C * elastic
}

// ratio returns the factors of the displacement ratio C = C1 C2 CL of a yielding
// structure to an elastic one. All are 1 for mu <= 1.
//
//	x  = max(T1/TC, 0.19)
//	C1 = 1 + (mu - 1)2/(19.5 x^2.6 (0.9 + mu - 1)(1 + 2.6 bV))
//	C2 = 1 + cl (min(1.2, 1 + (mu - 1)2/(500 max(T1, 0.2)2)) - 1)   T1 < 0.7 s, else 1
//	CL = mu^(-0.034 min(1, T1/TC))
//
// The form follows ASCE 41-17 7.4.3.3 (C1, C2), whose C1 is linear in mu - 1. Here it begins
// with the square, since the first excursions past yield are one-sided and short. Viscous
// dampers of added damping bV reduce it: they resist while the frame no longer does. Exponents,
// divisors and CL are [fit]. Target gives the standard's own values. C2 jumps to 1 at 0.7 s, as
// the standard's does.
func (f *Fit) ratio(mu, period, tc, degrading, viscous float64) (c1, c2, cl float64) {
	if mu <= 1 {
		return 1, 1, 1
	}
	x, y := max(period/tc, f.C1Least), mu-1
	c1 = 1 + y*y/(f.C1Divisor*elementary.Pow(x, f.C1Period)*(f.C1Start+y)*(1+f.Calm*viscous))
	c2 = 1
	if period < c2Period {
		y /= max(period, c2Least)
		c2 = 1 + degrading*min(f.C2Most-1, y*y/f.C2Divisor)
	}
	cl = elementary.Pow(mu, f.CLPower*min(1, period/tc))
	return c1, c2, cl
}
