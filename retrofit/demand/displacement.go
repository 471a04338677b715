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
//	th  = sum P_i/h_i d_i2/sum k_i d_i2
//
// th is the ratio by which the weight reduces the stiffness of the mode (Rayleigh's quotient);
// P_i/(k_i h_i) is that of a storey. u ends where every storey counts as collapsed.
func (w *Work) displace(sp *hazard.Spectrum) {
	t := &w.Trace
	n := len(t.Stiffness)
	t.First = resize(t.First, n)
	m := &t.Modes[0]
	elastic := math.Abs(m.Gamma) * m.Sd
	below, s := 0.0, 1.0
	pushed, held := 0.0, 0.0
	for i, phi := range m.Shape[:n] {
		d := math.Abs(phi-below) * elastic
		below = phi
		t.First[i] = d
		force := t.Stiffness[i] * d
		if force*s > t.Strength[i] {
			s, t.Anchor = t.Strength[i]/force, i
		}
		pushed += w.sways.weight[i] * d * d
		held += force * d
	}
	t.YieldFraction, t.StrengthRatio = s, 1/s
	if t.Sway = 0; held > 0 {
		t.Sway = pushed / held
	}
	w.ratio(sp.TC)
	t.Roof = min(t.C*elastic, w.sways.roof)
	if elastic > 0 {
		t.C = t.Roof / elastic
	}
}

// ratio sets the displacement ratio C = C1 C2 of a yielding structure to an elastic one. Both
// are 1 for mu <= 1.
//
//	C1 = 1 + 1/(mu r/((mu - 1)(1 - r)) + g)
//	C1 = 1 + y, g mu y2 + (A - mu + g B) y - B = 0    where that is past the end of hardening:
//	     A = mu (h - 1)/(mu - 1), B = mu - h, mu C1 > 1 + (h - 1)/r
//	g  = (143 (mu - 1)^-2.29 + 5.19) x^3.42 (1 + 2.78 bV) - mu th/((mu - 1)(1 + th))      [fit]
//	C2 = 1 + cl min(0.393 [fit], ((mu - 1)/max(T1, 0.2))2/800) f,  f = 1 up to 0.7 s, 0 from 1 s on
//
// x = T1/TC; th is the stability coefficient of the frame (sway), bV the added damping of viscous
// dampers, which resist while the frame no longer does. The form of C1 is that of Chopra and
// Chintanapakdee 2004, Journal of Structural Engineering 130:1309 (from memory): as the period
// goes to 0 the force has to reach the elastic one, and what the resistance past yield takes for
// that is the first term, 1/(L - 1) with L = (1 + (mu - 1)/r)/mu. They have 61 mu^-2.4 + 1.5 and
// x^2.4; here the first excursions past yield are one-sided and short. Hardening that ends at h V,
// and the weight that pushes further, whose slope -th has the same limit as r, enter that term, so
// the rest does not depend on them. With g <= 0 the weight wins: C1 is infinite, and the building
// collapses. C2 is equation 7-30 of ASCE 41-17, which ends at 0.7 s in a step.
func (w *Work) ratio(tc float64) {
	t := &w.Trace
	m := &t.Modes[0]
	mu := t.StrengthRatio
	t.C1, t.C2, t.C = 1, 1, 1
	if mu <= 1 {
		return
	}
	over, limit := mu-1, 1/(1-1/mu) // mu/(mu - 1)
	g := (w.fit.C1Start*elementary.Pow(over, -w.fit.C1Power) + w.fit.C1Rest) * w.fit.period(m.Period/tc)
	g = g*(1+w.fit.Calm*m.Viscous) - limit*t.Sway/(1+t.Sway)
	t.C1 = hardened(mu, g, t.Hardening, t.Hardened)
	if fade := min(1, (c2End-m.Period)/(c2End-c2Period)); fade > 0 {
		y := over / max(m.Period, c2Least)
		t.C2 = 1 + t.Degrading*min(w.fit.C2Most, y*y/c2Divisor)*fade
	}
	t.C = t.C1 * t.C2
}

// period returns x^C1Period, and below the least x of the fit its continuation with x2: a stiff
// structure that does not harden slides like a block on the ground, and its travel C Sd then does
// not depend on its period (Newmark 1965, Geotechnique 15:139).
func (f *Fit) period(x float64) float64 {
	if x < c1Least {
		return elementary.Pow(c1Least, f.C1Period-2) * x * x
	}
	return elementary.Pow(x, f.C1Period)
}

// hardened returns C1 for a post-yield ratio r that holds up to most times the strength, 0 for
// no end; +Inf where g, the resistance by dynamics, is used up.
func hardened(mu, g, r, most float64) float64 {
	if g <= 0 {
		return math.Inf(1)
	}
	c := 1 + 1/(mu*r/((mu-1)*(1-r))+g)
	if most == 0 || r*(mu*c-1) <= most-1 {
		return c
	}
	a, b := mu*(most-1)/(mu-1), mu-most
	half := (mu - a - g*b) / (2 * g * mu)
	return 1 + half + math.Sqrt(max(0, half*half+b/(g*mu)))
}
