package demand

import (
	"math"

	"plinth/hazard"
)

// displace finds the first-mode drifts, how far yielding limits them, and the
// roof displacement.
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
	t.C1, t.C2, t.CL = ratio(t.StrengthRatio, m.Period, sp.TC, t.Degrading)
	t.C = t.C1 * t.C2 * t.CL
	t.Roof = t.C * elastic
}

// ratio returns the factors of the displacement ratio C = C1 C2 CL of a yielding
// structure to an elastic one. All are 1 for mu <= 1.
//
//	x  = max(T1/TC, 0.2)
//	C1 = 1 + (mu - 1)^1.4/(28 x2)
//	C2 = 1 + cl (min(1.2, 1 + (mu - 1)2/(400 max(T1, 0.2)2)) - 1)   T1 < 0.7 s, else 1
//	CL = mu^(-0.15 min(1, T1/TC))
//
// The form follows ASCE 41-17 7.4.3.3 (C1, C2); exponents, divisors and CL are
// [fit]. TargetDisplacement gives the standard's own values. C2 steps to 1 at
// 0.7 s, as the standard's does.
func ratio(mu, period, tc, degrading float64) (c1, c2, cl float64) {
	if mu <= 1 {
		return 1, 1, 1
	}
	x := max(period/tc, fitC1Least)
	c1 = 1 + pow(mu-1, fitC1Power)/(fitC1Divisor*x*x)
	c2 = 1
	if period < fitC2Period {
		y := (mu - 1) / max(period, fitC2Least)
		c2 = 1 + degrading*min(fitC2Most-1, y*y/fitC2Divisor)
	}
	cl = pow(mu, fitCLPower*min(1, period/tc))
	return c1, c2, cl
}
