package demand

import (
	"math"

	"plinth/hazard/elementary"
)

// drifts fills the storey drifts of out.
//
//	dh_i    = sqrt(sum over j >= 2 of (G_j dphi_ij Sd_j)2)
//	rho_i   = k_i sqrt(d_i2 + dh_i2)/V_i
//	e_i     = dh_i (1 + 12.5 s (1 - 1/rho_i)2/gg)              [fit]; dh_i for rho_i <= 1
//	gg      = 1 + alpha f sqrt(muD)                         evening
//	drift_i = sqrt(a_i2 + e_i2)
//
// a is the first mode with its plastic part: see plastic. e is larger than dh where a storey
// yields in the higher modes, as upper storeys of tall frames do: the others push it and it
// cannot push back. (1 - 1/rho)2 is the share of its elastic energy above its strength, which it
// cannot store: it grows from 0 without a step in slope. The drifts do not add up to the roof
// displacement: they are medians of maxima from different records.
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
			x := 1 - 1/rho
			t.Higher[i] *= 1 + local*x*x
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
//	w_i = d_i (rho_i/rho_max)^(3.53/gg) (p x^i-1 + (1 - p) x^|i - m|),  x = exp(-1/(N l gg))     [fit]
//	l   = sqrt((1.27 [fit])2 r' + 1/(2 N)2),  p = o_1/o_m,  o_i = k_i d_i/V_i, m where it is largest
//	a_i = s d_i + max(0, u - s G1 Sd1) ((1 - s2) w_i/sum w + s2 d_i/sum d);  d_i for mu <= 1
//
// Plastic drift spreads from where it begins as a wave on the slope past yield (von Karman and Duwez
// 1950, Journal of Applied Physics 21:987), at sqrt(r') of the speed of the elastic wave, which passes
// the height H twice in half a period; l is its way over H, 2 sqrt(r') if the frame yielded for half
// a period, and at least half a storey. Only 1 - s2 of the elastic energy is beyond what the frame
// stores, so drift gathers as it goes past yield, and not at once. r' is the slope of the frame less
// that of the weight (Trace.slope), so where the weight takes the hardening away one storey takes the
// drift. A storey m with more overload in the first mode than the foot, as above a set-back, is a
// second place where it begins: the foot lets p of that overload through.
//
// With yielding devices 1/l grows (Yielding). Dampers make the drifts more even, by gg.
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
	n := float64(len(t.First))
	wave := w.fit.Spread * w.fit.Spread * t.slope(t.C*t.StrengthRatio)
	t.Fall = w.fit.DeviceDecay*t.DeviceShare + 1/math.Sqrt(wave+0.25/(n*n))
	power, fall := w.fit.Concentrate/t.Evenness, t.Fall/t.Evenness/n
	p := t.Stiffness[0] * t.First[0] / t.Strength[0] * t.YieldFraction
	x, near := elementary.Exp(-fall), p
	sum, all := 0.0, 0.0
	for i, d := range t.First {
		all += d
		begin := near
		if t.Anchor > 0 {
			begin += (1 - p) * elementary.Exp(-fall*math.Abs(float64(i-t.Anchor)))
		}
		near *= x
		t.Weight[i] = d * begin * elementary.Exp(power*elementary.Log(t.Overload[i]/most))
		sum += t.Weight[i]
	}
	even := t.YieldFraction * t.YieldFraction
	plastic := max(0, t.Roof-t.YieldFraction*t.Roof/t.C)
	for i, d := range t.First {
		t.Weight[i] = even*d/all + (1-even)*t.Weight[i]/sum
		t.Yielded[i] = t.YieldFraction*d + plastic*t.Weight[i]
	}
}
