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
//	b_D1 = bV,  b_Dj = bV T1/Tj,  f = 2 bV
//
// Nonlinear ones act as linear ones of the same energy in a cycle of the storey drifts a of the
// first mode with their plastic part, at the frequency of the yielded frame:
//
//	c_i  = lambda/pi C_i (w a_i/sqrt(muD))^(Alpha - 1),  muD = max(1, C mu)
//	bV   = min(4, w sum c_i a_i2/(2 sum k_i a_i2))
//	b_D1 = bV,  b_Dj = min(4, 7.02 bV T1/Tj) [fit],  f = 2 pi bV/lambda(Alpha)
//
// The drifts depend on bV, and bV is the root of that equation (settle). C_i is in proportion to
// k_i and gives Damping at the roof amplitude ReferenceRoof of the elastic first mode. At Alpha = 1
// bV is Damping whatever the drifts. The frequency falls with the root of the ductility, as in
// ASCE 7-16 18.7.3 and Ramirez and others 2000, whose damping of a yielded frame is that at its
// displacement times muD^(1 - Alpha/2) (from memory); dampers in the spectral displacement of the
// elastic period count muD^(1/2) less.
//
// The two forms do not meet: the higher modes of the nonlinear form at Alpha = 1 are a fit. Alpha
// outside 0.2 to 1 is OutOfDomain; a negative Damping, or an Alpha or ReferenceRoof that is not
// positive, is NotApplicable. No damping is AsIs.
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
		w.nonlinear(sp, d, out)
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
	t.DamperForce, t.DamperSlope = 2*added, 2*added
	w.read(sp)
	w.displace(sp)
}

// nonlinear sets damping and ordinates of the modes with nonlinear dampers.
func (w *Work) nonlinear(sp *hazard.Spectrum, d Viscous, out *Response) {
	t := &w.Trace
	if d.Alpha < leastAlpha || d.Alpha > mostAlpha {
		w.status |= OutOfDomain
	}
	n := len(t.Stiffness)
	w.amplitude = resize(w.amplitude, n)
	below := 0.0
	for i, phi := range t.Modes[0].Shape[:n] {
		w.amplitude[i], below = math.Abs(phi-below)*d.ReferenceRoof, phi
	}
	s := damperSearch{w: w, sp: sp, d: d, out: out}
	s.force = 2 * math.Pi / Lambda(d.Alpha)
	s.reference = power(t.Stiffness, nil, w.amplitude, d.Alpha)
	q := startAt(min(viscousMost, d.Damping), 2*viscousMost)
	for q.more() {
		b := q.x
		q.take(s.asked(b))
		t.record(q.steps, Pass{Added: b, Period: t.Modes[0].Period, YieldFraction: t.YieldFraction, C: t.C,
			Roof: t.Roof})
	}
	if !q.found {
		w.status |= Capped
	}
}

// damperSearch seeks the damping of nonlinear dampers on a frame under a spectrum.
type damperSearch struct {
	w         *Work
	sp        *hazard.Spectrum
	d         Viscous
	out       *Response // scratch
	force     float64   // damper force over elastic force, per unit of damping
	reference float64   // power of the drifts at which Damping holds
}

// asked sets damping b in the modes, with the drifts that follow, and returns the damping that
// the dampers give at those drifts.
func (s *damperSearch) asked(b float64) float64 {
	t, fit := &s.w.Trace, s.w.fit
	for j := range t.Count {
		m := &t.Modes[j]
		m.Viscous = b
		if j > 0 {
			m.Viscous = min(viscousMost, fit.ViscousModes*b*t.Modes[0].Period/m.Period)
		}
		m.Damping = t.Damping + m.Viscous
	}
	t.DamperForce = s.force * b
	t.DamperSlope = s.d.Alpha * t.DamperForce
	s.w.read(s.sp)
	s.w.displace(s.sp)
	s.w.drifts(s.out)
	if !(t.Roof > 0) { // no shaking
		return min(viscousMost, s.d.Damping)
	}
	return min(viscousMost, s.d.Damping*power(t.Stiffness, t.Strength, t.Yielded, s.d.Alpha)/s.reference)
}

// power returns the damping of nonlinear dampers at storey drifts a, up to a factor; the storeys are
// elastic where no strength is given.
//
//	sum k a2 (a/sqrt(max(1, k a/V)))^(alpha - 1)/sum k a2
func power(k, v, a []float64, alpha float64) float64 {
	energy, stored := 0.0, 0.0
	for i, x := range a {
		x2, y := k[i]*x*x, x
		if v != nil && k[i]*x > v[i] {
			y = math.Sqrt(v[i] * x / k[i])
		}
		energy += x2 * elementary.Pow(y, alpha-1)
		stored += x2
	}
	return energy / stored
}

// ductility returns the largest roof displacement over that at first yield, at least 1.
func (t *Trace) ductility() float64 { return max(1, t.C*t.StrengthRatio) }

// evening returns the slope of the force of the dampers over the strength of the frame, which makes
// the plastic drift more even: at the velocity of the yielded frame a damper of slope C' resists a
// storey that drifts more than the others.
//
//	alpha f sqrt(muD)
//
// f is the damper force over the elastic force, at the elastic frequency: the force over the
// strength is f muD there and f sqrt(muD) at the frequency of the yielded frame.
func (t *Trace) evening() float64 {
	if t.DamperSlope == 0 {
		return 0
	}
	return t.DamperSlope * math.Sqrt(t.ductility())
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
