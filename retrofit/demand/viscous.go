package demand

import (
	"math"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/hazard/elementary"
)

// Viscous is a set of fluid dampers, force ~ velocity^Alpha, with constants proportional to the
// storey stiffnesses.
type Viscous struct {
	Alpha         float64 // exponent of velocity, 1 for linear
	Damping       float64 // added damping, a fraction of critical; energy-equivalent for Alpha below 1
	ReferenceRoof float64 // m, roof amplitude at which Damping holds; ignored for Alpha = 1
}

// The domain of Alpha, by judgement: the exponents of the comparison with time histories are
// not recorded. Fluid dampers are made with about 0.3 to 1 (common practice, no source).
const (
	leastAlpha = 0.2
	mostAlpha  = 1
)

// Viscous fills out with the demand on st with viscous dampers d under sp.
//
// Linear dampers (Alpha = 1) add the same damping at every amplitude:
//
//	b_D1 = bV,  b_Dj = bV T1/Tj,  b_r = bV,  f = 2 bV
//
// Nonlinear ones depend on the amplitude u of the roof, found in four passes from u = G1 Sd(T1,
// 5 %) by u <- u (u_new/u)^1.4, u_new = C G1 Sd1 at b = b0 + bV(u):
//
//	bV(u) = min(4, 1.09 [fit] x Damping (u/ReferenceRoof)^(Alpha - 1))
//	b_D1  = bV,  b_Dj = min(4, 6.7 bV T1/Tj) [fit],  b_r = bV Alpha^1.07 [fit]
//	f     = 2 pi bV/lambda(Alpha)
//
// The two forms do not meet: the nonlinear form at Alpha = 1 is another fit. Alpha outside 0.2
// to 1 is OutOfDomain; a negative Damping, or an Alpha or ReferenceRoof that is not positive,
// is NotApplicable. No damping is AsIs.
func (w *Work) Viscous(st *archetypes.Stick, sp *hazard.Spectrum, d Viscous, out *Response) {
	if !w.load(st, out) {
		return
	}
	linear := d.Alpha == 1
	if !(d.Damping >= 0) || !positive(d.Alpha) || !linear && !positive(d.ReferenceRoof) ||
		math.IsInf(d.Damping, 0) {
		out.void(st.N())
		return
	}
	switch {
	case d.Damping == 0:
		w.read(sp)
		w.displace(sp)
	case linear:
		w.linear(sp, d.Damping)
	default:
		w.nonlinear(sp, d)
	}
	w.finish(st, sp, out)
}

// linear sets damping and ordinates of the modes with linear dampers.
func (w *Work) linear(sp *hazard.Spectrum, added float64) {
	t := &w.Trace
	for j := range t.Count {
		m := &t.Modes[j]
		m.Viscous = added * t.Modes[0].Period / m.Period
		m.Damping = t.Damping + m.Viscous
	}
	t.DriftDamping, t.DamperForce = added, 2*added
	w.read(sp)
	w.displace(sp)
}

// nonlinear iterates amplitude and damping, then sets the ordinates of the modes.
func (w *Work) nonlinear(sp *hazard.Spectrum, d Viscous) {
	t := &w.Trace
	if d.Alpha < leastAlpha || d.Alpha > mostAlpha {
		w.status |= OutOfDomain
	}
	m := &t.Modes[0]
	u := math.Abs(m.Gamma) * displacementOf(sp.Sa(m.Period)*hazard.Gravity, m.Period)
	added := 0.0
	for i := range Passes {
		added = d.at(u, w.fit.ViscousEnergy)
		m.Viscous, m.Damping = added, t.Damping+added
		m.read(sp)
		w.displace(sp)
		t.Passes[i] = Pass{
			Amplitude: u, Added: added, Period: m.Period,
			YieldFraction: t.YieldFraction, C: t.C, Roof: t.Roof,
		}
		if !(u > 0) { // no shaking
			break
		}
		u *= elementary.Pow(t.Roof/u, viscousStep)
	}
	t.PassCount = Passes
	for j := 1; j < t.Count; j++ {
		m := &t.Modes[j]
		m.Viscous = min(viscousMost, w.fit.ViscousModes*added*t.Modes[0].Period/m.Period)
		m.Damping = t.Damping + m.Viscous
	}
	t.DriftDamping = added * elementary.Pow(d.Alpha, w.fit.ViscousDrift)
	t.DamperForce = 2 * math.Pi * added / Lambda(d.Alpha)
	w.read(sp)
}

// at returns the added damping at roof amplitude u in m; energy is the factor on the
// energy-equivalent damping.
func (d Viscous) at(u, energy float64) float64 {
	if !(u > 0) {
		return min(viscousMost, energy*d.Damping)
	}
	return min(viscousMost, energy*d.Damping*elementary.Pow(u/d.ReferenceRoof, d.Alpha-1))
}

// Lambda returns the ratio of the energy a damper of force C |v|^alpha dissipates
// in a harmonic cycle of amplitude u and frequency w to C (w u)^alpha u.
//
//	lambda = 2^(2 + alpha) Gamma(1 + alpha/2)2/Gamma(2 + alpha)
//
// Seleemah and Constantinou 1997; FEMA 274 (1997) 9.3. It is pi for alpha = 1 and
// 4 for alpha = 0 (friction). alpha must be above -1.
func Lambda(alpha float64) float64 {
	g := math.Gamma(1 + alpha/2)
	return math.Exp2(2+alpha) * g * g / math.Gamma(2+alpha)
}
