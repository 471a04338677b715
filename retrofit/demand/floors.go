package demand

import (
	"math"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/hazard/elementary"
)

// floors fills the floor accelerations and the base shear of out. The first mode
// is reduced by yielding, the higher ones hardly (after Rodriguez, Restrepo and Carr
// 2002, Earthquake Engineering and Structural Dynamics 31:693).
//
//	a_i2 = A_i2 q2 + sum over j >= 2 of (G_j phi_ij Sa_j h)2
//	       + ((1 - sum over j of G_j phi_ij) Sm)2 + (R_i Sr)2           frame
//	     + 2 ra q f A_i2 + 1.4 [fit] sum over j >= 2 of (b_Dj G_j phi_ij Sa_j h)2  dampers
//	A_i = G1 phi_i1 Sa1
//	q  = min(1, s (1 + min(r (C mu - 1), h - 1)) + 0.231 (1 - s)) [fit],  1 for mu <= 1
//	h  = mu^-0.214 [fit],  ra = 0.728 (1 - s) [fit]
//
// 0.231 (1 - s) is the inherent damping, whose force does not yield with the frame. The omitted
// modes together have the shape R_i. Their rigid part moves with the ground and the remainder
// has its own spectral ordinate: see omitted. f is the damper force over the elastic force of
// the first mode, 0 without viscous dampers. The damper force is largest when the frame is
// undeformed, so it adds nothing to the peak of an elastic frame; a yielding frame holds its
// force meanwhile, and the two add.
//
// The top storey, with its drift from drifts, limits the acceleration of the roof:
//
//	a_N m_N <= 1.04 [fit] F_N,  F_i the resistance of storey i at its drift
func (w *Work) floors(sp *hazard.Spectrum, out *Response) {
	t := &w.Trace
	n := len(t.First)
	s, mu := t.YieldFraction, t.StrengthRatio
	t.HigherFactor, t.FirstFactor = 1, 1
	if mu > 1 {
		t.HigherFactor = elementary.Pow(mu, w.fit.Higher)
		t.FirstFactor = min(1, s*(1+t.gain(t.C*mu))+w.fit.Inherent*(1-s))
	}
	t.PhaseAccel, t.PhaseShear = w.fit.PhaseAccel*(1-s), 1-s
	w.omitted(sp)

	q, f := t.FirstFactor, t.DamperForce
	var frame, damper [len(t.Modes)]float64 // (Sa_j)2 with every factor that is equal for all floors
	first := t.Modes[0].Sa * t.Modes[0].Sa
	frame[0], damper[0] = first*q*q, 2*first*t.PhaseAccel*q*f
	for j := 1; j < t.Count; j++ {
		m := &t.Modes[j]
		frame[j] = m.Sa * m.Sa * t.HigherFactor * t.HigherFactor
		damper[j] = w.fit.ViscousHigher * frame[j] * m.Viscous * m.Viscous
	}
	out.Accel = resize(out.Accel, n)
	out.BaseAccel = sp.PGA * hazard.Gravity
	out.PeakAccel = out.BaseAccel
	for i := range out.Accel {
		sum, dampers, missing := 0.0, 0.0, 1.0
		for j := range t.Count {
			x := t.Modes[j].Gamma * t.Modes[j].Shape[i]
			sum += x * x * frame[j]
			dampers += x * x * damper[j]
			missing -= x
		}
		x := missing * t.MissingMass
		sum += x * x
		if t.RestSa > 0 {
			x = t.Rest[i] * t.RestSa
			sum += x * x
		}
		if i == n-1 {
			x = w.push(i, out.Drift[i])
			sum = min(sum, x*x)
		}
		out.Accel[i] = math.Sqrt(sum + dampers)
		out.PeakAccel = max(out.PeakAccel, out.Accel[i])
	}
	out.BaseShear = w.shear(out.Drift[0])
}

// push returns the acceleration in m/s2 that storey i, the top one, can give the roof at a
// drift in m.
func (w *Work) push(i int, drift float64) float64 {
	t := &w.Trace
	return w.fit.RoofPush * t.resistance(i, drift) / t.Mass[i]
}

// resistance returns the force F in N of storey i at a drift in m past yield, and its strength
// below.
//
//	V (1 + min(rf x, h - 1) + (kr/k - rf) x),  x = max(0, k drift/V - 1),  rf = min(r, kr/k)
//
// h ends the hardening of the frame, rf, not that of devices that stay elastic.
func (t *Trace) resistance(i int, drift float64) float64 {
	k, v := t.Stiffness[i], t.Strength[i]
	x := max(0, k*drift/v-1)
	all := t.PostYield[i] / k
	frame := min(t.Hardening, all)
	gain := frame * x
	if t.Hardened > 0 {
		gain = min(gain, t.Hardened-1)
	}
	return v * (1 + gain + (all-frame)*x)
}

// omitted sets the ordinates in m/s2 of the omitted modes. At zero period they all follow the
// ground. Their response to the spectrum above the ground acceleration, at the first of them,
// adds by squares (rigid and damped parts after Gupta 1990, Response Spectrum Method, chapter
// 3; from memory).
//
//	Sm = PGA mu^0.257 [fit]
//	Sr = h sqrt(Sa(5 T3/7, b0 + 7 b_D3/5)2 - PGA2);  0 for N <= 3
//
// 5 T3/7 is the fourth period of a uniform shear beam. Sm rises with yielding: floors near the
// ground are jerked as the adjoining storeys yield and unload.
func (w *Work) omitted(sp *hazard.Spectrum) {
	t := &w.Trace
	t.MissingMass, t.RestSa = sp.PGA*hazard.Gravity, 0
	if t.StrengthRatio > 1 {
		t.MissingMass *= elementary.Pow(t.StrengthRatio, w.fit.Missing)
	}
	if len(t.First) <= t.Count || len(t.Rest) < len(t.First) {
		return
	}
	last := &t.Modes[t.Count-1]
	period := 5 * last.Period / 7
	damping := sp.Worth(t.Damping+7*last.Viscous/5, period)
	sa := sp.Sa(period) * reduction(archetypes.CodeDamping) / reduction(damping)
	t.RestSa = t.HigherFactor * math.Sqrt(max(0, sa*sa-sp.PGA*sp.PGA)) * hazard.Gravity
}

// shear returns the base shear in N for the drift of the lowest storey in m.
//
//	Vf  = min(sqrt((k1 d1 q)2 + (k1 e1)2), F_1)
//	Vd2 = (k1 d1 f)2 + sum over j >= 2 of (k1 G_j dphi_1j Sd_j 2 b_Dj)2,   0 if f = 0
//	V   = sqrt(Vf2 + Vd2 + 2 rv Vf Vd),   rv = 1 - s [fit]
func (w *Work) shear(drift float64) float64 {
	t := &w.Trace
	k := t.Stiffness[0]
	elastic := k * math.Hypot(t.First[0]*t.FirstFactor, t.Higher[0])
	t.FrameShear, t.DamperShear = min(elastic, t.resistance(0, drift)), 0
	if t.DamperForce > 0 {
		x := k * t.First[0] * t.DamperForce
		sum := x * x
		for j := 1; j < t.Count; j++ {
			m := &t.Modes[j]
			x := k * m.Gamma * m.Shape[0] * m.Sd * 2 * m.Viscous
			sum += x * x
		}
		t.DamperShear = math.Sqrt(sum)
	}
	f, d := t.FrameShear, t.DamperShear
	return math.Sqrt(f*f + d*d + 2*t.PhaseShear*f*d)
}
