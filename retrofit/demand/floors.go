package demand

import (
	"math"

	"plinth/hazard"
)

// floors fills the floor accelerations and the base shear of out. The first mode
// is reduced by yielding, the higher ones hardly, and the mass the modes miss
// moves with the ground (after Rodriguez, Restrepo and Carr 2002, Earthquake
// Engineering and Structural Dynamics 31:693).
//
//	a_i2 = A_i2 (q2 + f2 + 2 ra q f) + sum over j >= 2 of (G_j phi_ij Sa_j h)2 (1 + 2 b_Dj2)
//	       + ((1 - sum over j of G_j phi_ij) Sm)2,    A_i = G1 phi_i1 Sa1
//	h  = mu^-0.10 [fit],  o = min(1.5, 1.1 + 0.05 (N - 1)) [fit]
//	q  = min(1, s o (1 + r (C mu - 1))),  1 for mu <= 1
//	ra = 0.25 (1 - s) [fit]
//
// f is the damper force over the elastic force of the first mode, 0 without
// viscous dampers.
func (w *Work) floors(sp *hazard.Spectrum, out *Response) {
	t := &w.Trace
	n := len(t.First)
	s, mu := t.YieldFraction, t.StrengthRatio
	t.HigherFactor, t.FirstFactor = 1, 1
	t.Overshoot = min(fitOverMost, fitOver+fitOverStorey*float64(n-1))
	if mu > 1 {
		t.HigherFactor = pow(mu, fitHigher)
		t.FirstFactor = min(1, s*t.Overshoot*(1+t.Hardening*(t.C*mu-1)))
	}
	t.PhaseAccel, t.PhaseShear = fitPhaseAccel*(1-s), fitPhaseShear*(1-s)
	t.MissingMass = w.missingMass(sp)

	q, f := t.FirstFactor, t.DamperForce
	var scale [len(t.Modes)]float64 // (Sa_j)2 with every factor that is the same for all floors
	scale[0] = t.Modes[0].Sa * t.Modes[0].Sa * (q*q + f*f + 2*t.PhaseAccel*q*f)
	for j := 1; j < t.Count; j++ {
		m := &t.Modes[j]
		scale[j] = m.Sa * m.Sa * t.HigherFactor * t.HigherFactor * (1 + 2*m.Viscous*m.Viscous)
	}
	out.Accel = resize(out.Accel, n)
	out.BaseAccel = sp.PGA * hazard.Gravity
	out.PeakAccel = out.BaseAccel
	for i := range out.Accel {
		sum, missing := 0.0, 1.0
		for j := range t.Count {
			x := t.Modes[j].Gamma * t.Modes[j].Shape[i]
			sum += x * x * scale[j]
			missing -= x
		}
		x := missing * t.MissingMass
		out.Accel[i] = math.Sqrt(sum + x*x)
		out.PeakAccel = max(out.PeakAccel, out.Accel[i])
	}
	out.BaseShear = w.shear(out.Drift[0])
}

// missingMass returns the ordinate in m/s2 at which the mass outside the modes
// moves.
//
//	Sm = PGA                                   N <= 3
//	Sm = h (PGA + 0.5 (Sa(5 T3/7) - PGA))      above [fit], Sa at 5 %
func (w *Work) missingMass(sp *hazard.Spectrum) float64 {
	t := &w.Trace
	if len(t.First) <= fitRigidStorey || t.Count < 3 {
		return sp.PGA * hazard.Gravity
	}
	sa := sp.Sa(5 * t.Modes[2].Period / 7)
	return t.HigherFactor * (sp.PGA + fitRigid*(sa-sp.PGA)) * hazard.Gravity
}

// shear returns the base shear in N for the drift of the lowest storey in m.
//
//	Vf  = min(sqrt((k1 d1 q)2 + (k1 dh1)2), V1 (1 + (kr1/k1) max(0, k1 drift1/V1 - 1)))
//	Vd2 = (k1 d1 f)2 + sum over j >= 2 of (k1 G_j dphi_1j Sd_j 2 b_Dj)2,   0 if f = 0
//	V   = sqrt(Vf2 + Vd2 + 2 rv Vf Vd),   rv = 1 - s [fit]
func (w *Work) shear(drift float64) float64 {
	t := &w.Trace
	k, v := t.Stiffness[0], t.Strength[0]
	elastic := k * math.Hypot(t.First[0]*t.FirstFactor, t.Higher[0])
	strength := v * (1 + t.PostYield[0]/k*max(0, k*drift/v-1))
	t.FrameShear, t.DamperShear = min(elastic, strength), 0
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
