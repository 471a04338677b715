package demand

import "math"

// drifts fills the storey drifts of out.
//
//	dh_i    = sqrt(sum over j >= 2 of (G_j dphi_ij Sd_j)2)
//	drift_i = sqrt(d_i2 + dh_i2)                            mu <= 1
//	drift_i = sqrt((a_i/2 + b_i/2)2 + dh_i2)                mu > 1
//
// a is profile A, in which plastic drift goes where force exceeds strength most;
// b is profile B, from a pushover. The drifts do not add up to the roof
// displacement: they are medians of maxima that come from different records.
//
// share is what damping does not even out in the shares: e = 1 - share/gg, with
// gg = 1 + 0.5 b_r mu [fit].
func (w *Work) drifts(share float64, out *Response) {
	t := &w.Trace
	n := len(t.First)
	w.higher()
	t.Overload, t.Weight = resize(t.Overload, n), resize(t.Weight, n)
	t.ProfileA, t.ProfileB, t.Pushed = resize(t.ProfileA, n), resize(t.ProfileB, n), resize(t.Pushed, n)
	out.Drift = resize(out.Drift, n)
	most := 0.0
	for i, d := range t.First {
		drift := math.Sqrt(d*d + t.Higher[i]*t.Higher[i])
		out.Drift[i] = drift
		t.Overload[i] = t.Stiffness[i] * drift / t.Strength[i]
		most = max(most, t.Overload[i])
	}
	t.Evenness = 1 + fitRegular*t.DriftDamping*t.StrengthRatio
	t.Share = 1 - share/t.Evenness
	if t.StrengthRatio <= 1 {
		clear(t.Weight)
		copy(t.ProfileA, t.First)
		copy(t.ProfileB, t.First)
		copy(t.Pushed, t.First)
		t.Load = 1
		return
	}
	w.profileA(most)
	w.push()
	w.profileB()
	for i, a := range t.ProfileA {
		first := fitProfile*a + (1-fitProfile)*t.ProfileB[i]
		out.Drift[i] = math.Sqrt(first*first + t.Higher[i]*t.Higher[i])
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
}

// profileA shares the plastic part of the roof displacement among the storeys by
// how far force exceeds strength. most is the largest Overload.
//
//	w_i = d_i (rho_i/rho_max)^(3/gg),  sg_i = w_i/sum w            [fit]
//	a_i = s d_i + max(0, G1 Sd1 (C - s)) sg_i^e
func (w *Work) profileA(most float64) {
	t := &w.Trace
	sum, power := 0.0, fitConcentrate/t.Evenness
	for i, d := range t.First {
		r := t.Overload[i] / most
		if power == 3 {
			r = r * r * r
		} else {
			r = pow(r, power)
		}
		t.Weight[i] = d * r
		sum += t.Weight[i]
	}
	plastic := max(0, t.Roof-t.YieldFraction*t.Roof/t.C)
	for i, d := range t.First {
		t.Weight[i] /= sum
		t.ProfileA[i] = t.YieldFraction*d + plastic*pow(t.Weight[i], t.Share)
	}
}

// leastHardening, a part of the initial stiffness, keeps the pushover solvable for
// storeys without post-yield stiffness: the first to yield then takes all that is
// left, as it should. It only has to be small beside any real hardening.
const leastHardening = 1e-6

// push loads the frame with storey forces l k_i d_i until its drifts add up to
// the roof displacement.
//
//	p_i = l d_i                                              l k_i d_i <= V_i
//	p_i = V_i/k_i + (l k_i d_i - V_i)/(kr_i + 2 b_r k_i)     above [fit]
//
// The sum is piecewise linear in l and bends one way, so Newton's method from
// l = 1 moves one way after its first step, and is exact once no storey more or
// fewer yields.
func (w *Work) push() {
	t := &w.Trace
	extra := fitDamperPush * t.DriftDamping
	l, last := 1.0, -1
	for range 2*len(t.First) + 3 {
		yielded, sum, slope := 0, 0.0, 0.0 // sum of p at l, and its derivative
		for i, d := range t.First {
			k, v := t.Stiffness[i], t.Strength[i]
			force := k * d
			if l*force <= v {
				t.Pushed[i] = l * d
				slope += d
			} else {
				soft := max(t.PostYield[i]+extra*k, leastHardening*k)
				t.Pushed[i] = v/k + (l*force-v)/soft
				slope += force / soft
				yielded++
			}
			sum += t.Pushed[i]
		}
		t.Load = l
		if yielded == last {
			return
		}
		last = yielded
		l += (t.Roof - sum) / slope
	}
	w.status |= Capped
}

// profileB evens out the plastic drifts of the pushover.
//
//	pl_i = max(0, p_i - V_i/k_i),  P = sum pl
//	b_i  = V_i/k_i + P (pl_i/P)^e     where pl_i > 0, else p_i
func (w *Work) profileB() {
	t := &w.Trace
	total := 0.0
	for i, p := range t.Pushed {
		total += max(0, p-t.Strength[i]/t.Stiffness[i])
	}
	for i, p := range t.Pushed {
		dy := t.Strength[i] / t.Stiffness[i]
		t.ProfileB[i] = p
		if p > dy {
			t.ProfileB[i] = dy + total*pow((p-dy)/total, t.Share)
		}
	}
}
