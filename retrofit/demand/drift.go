package demand

import (
	"math"

	"plinth/hazard/elementary"
)

// drifts fills the storey drifts of out.
//
//	dh_i    = sqrt(sum over j >= 2 of (G_j dphi_ij Sd_j)2)
//	rho_i   = k_i sqrt(d_i2 + dh_i2)/V_i
//	e_i     = dh_i (1 + 3.5 s sqrt(1 - 1/rho_i)/gg)         [fit]; dh_i for rho_i <= 1
//	gg      = 1 + alpha f sqrt(muD)                         evening
//	drift_i = sqrt(a_i2 + e_i2)
//
// a is the first mode with its plastic part: see plastic. e is larger than dh where a storey
// yields in the higher modes, as upper storeys of tall frames do: the others push it and it
// cannot push back. The drifts do not add up to the roof displacement: they are medians of
// maxima from different records.
func (w *Work) drifts(out *Response) {
	t := &w.Trace
	n := len(t.First)
	w.higher()
	t.Overload, t.Weight, t.Yielded = resize(t.Overload, n), resize(t.Weight, n), resize(t.Yielded, n)
	out.Drift = resize(out.Drift, n)
	t.Evenness = 1 + t.evening()
	local := w.fit.Local * t.YieldFraction / t.Evenness
	for i, d := range t.First {
		rho := t.Stiffness[i] * math.Sqrt(d*d+t.Higher[i]*t.Higher[i]) / t.Strength[i]
		if rho > 1 {
			t.Higher[i] *= 1 + local*math.Sqrt(1-1/rho)
		}
		t.Overload[i] = rho
	}
	w.plastic()
	for i, a := range t.Yielded {
		out.Drift[i] = math.Sqrt(a*a + t.Higher[i]*t.Higher[i])
	}
}

// higher fills the drifts of the modes above the first.
func (w *Work) higher() {
	t := &w.Trace
	t.Higher = resize(t.Higher, len(t.First))
	clear(t.Higher)
	if t.Count == 1 {
		return
	}
	for j := 1; j < t.Count; j++ {
		m := &t.Modes[j]
		scale, below := m.Gamma*m.Sd, 0.0
		for i, phi := range m.Shape[:len(t.Higher)] {
			x := scale * (phi - below)
			t.Higher[i] += x * x
			below = phi
		}
	}
	for i, x := range t.Higher {
		t.Higher[i] = math.Sqrt(x)
	}
	t.pulled()
}

// plastic fills the first-mode drifts with yielding. The plastic part of the roof displacement
// goes mainly to the storeys whose force exceeds their strength most and, at equal overload, to
// the lowest: shaking enters at the foot, and a storey that yields there passes on no more than
// its strength.
//
//	w_i = d_i (rho_i/rho_max)^(5.5/gg) exp(-3.1 z_i/gg),  z_i = (i - 1)/N     [fit]
//	a_i = s d_i + max(0, u - s G1 Sd1) w_i/sum w;  d_i for mu <= 1
//
// With yielding devices 3.1 grows (Yielding). Dampers make the drifts more even, by gg.
func (w *Work) plastic() {
	t := &w.Trace
	if t.StrengthRatio <= 1 {
		copy(t.Yielded, t.First)
		clear(t.Weight)
		return
	}
	most := 0.0
	for _, rho := range t.Overload {
		most = max(most, rho)
	}
	power, fall := w.fit.Concentrate/t.Evenness, t.Fall/t.Evenness/float64(len(t.First))
	sum := 0.0
	for i, d := range t.First {
		t.Weight[i] = d * elementary.Exp(power*elementary.Log(t.Overload[i]/most)-fall*float64(i))
		sum += t.Weight[i]
	}
	plastic := max(0, t.Roof-t.YieldFraction*t.Roof/t.C)
	for i, d := range t.First {
		t.Weight[i] /= sum
		t.Yielded[i] = t.YieldFraction*d + plastic*t.Weight[i]
	}
}
