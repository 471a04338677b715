package demand

import (
	"math"

	"plinth/archetypes"
	"plinth/hazard"
)

// TunedMass is a mass on springs and dampers at the roof, tuned to the first
// mode (tuning.go).
type TunedMass struct {
	Mass float64    // kg
	For  Excitation // excitation it is tuned for; the fit holds for the zero value
}

// TunedTrace holds the intermediate values of TunedMass.
type TunedTrace struct {
	FirstRoof float64 // m, roof displacement without the mass [u]
	Ductility float64 // of the worst storey, at least 1
	Ratio     float64 // tuned mass over modal mass [mm]
	Effect    float64 // share of the effect left after yielding [L]
	Tuning    Tuning
	Left      float64 // share of the added damping left if the period is misjudged by Mistuning
	Stroke    float64 // m, estimate of the travel of the mass relative to the roof
	Force     float64 // N, of the mass on the roof, spring and damper together
}

// TunedMass fills out with the demand on st with a tuned mass d under sp. The mass acts as
// damping of the first mode. The effect decreases as the frame yields, since yielding detunes
// the mass.
//
//	ductility = max(1, u/min_i (V_i/(k_i |phi_i1 - phi_(i-1)1|))),  u without the mass
//	mm  = Mass/sum m phi_i1^2
//	L   = 1/(1 + ((sqrt(ductility) - 1)/sqrt(mm))2)
//	b_1 = b0 + 0.25 [fit] sqrt(mm)/4 L S
//
// The fit used the tuning of Sadek et al. 1997 for the mode, S = 1. For another tuning S is its
// added damping over that of Sadek's, both under white noise (TunedFrame), and the status is
// OutOfDomain. The force of the mass on the roof goes through the storeys (pull). A mass of 0 is
// AsIs; one that is negative or not finite is NotApplicable.
func (w *Work) TunedMass(st *archetypes.Stick, sp *hazard.Spectrum, d TunedMass, out *Response) {
	if !w.load(st, out) {
		return
	}
	if !(d.Mass >= 0) || math.IsInf(d.Mass, 0) || d.For >= excitations {
		out.void(st.N())
		return
	}
	w.read(sp)
	w.displace(sp)
	if d.Mass > 0 {
		w.tune(st, d)
		w.Trace.Modes[0].read(sp)
		w.displace(sp)
		w.pull(st, d.Mass)
	} else {
		w.Trace.TunedMass = TunedTrace{FirstRoof: w.Trace.Roof, Ductility: 1, Left: 1}
	}
	w.finish(st, sp, out)
}

// tune sets the damping of the first mode from the roof displacement without the
// mass.
func (w *Work) tune(st *archetypes.Stick, d TunedMass) {
	t := &w.Trace
	first := &t.Modes[0]
	yield, below := math.Inf(1), 0.0
	for i, phi := range first.Shape[:st.N()] {
		if x := math.Abs(phi - below); x > 0 {
			yield = min(yield, st.Strength[i]/(st.Stiffness[i]*x))
		}
		below = phi
	}
	tr := &t.TunedMass
	*tr = TunedTrace{FirstRoof: t.Roof, Ductility: max(1, t.Roof/yield), Ratio: d.Mass / st.ModalMass()}
	x := (math.Sqrt(tr.Ductility) - 1) / math.Sqrt(tr.Ratio)
	tr.Effect = 1 / (1 + x*x)
	tr.Tuning = TuneFor(d.For, tr.Ratio, first.Gamma, t.Damping)
	frame := TunedFrame{Ratio: tr.Ratio, Participation: first.Gamma, Damping: t.Damping}
	tr.Left = frame.LeftMistuned(tr.Tuning, Mistuning)
	share := 1.0
	if d.For != Earthquake {
		w.status |= OutOfDomain
		sadek := frame.EquivalentDamping(SadekMode(tr.Ratio, first.Gamma, t.Damping))
		share = max(0, frame.EquivalentDamping(tr.Tuning)-t.Damping) / (sadek - t.Damping)
	}
	first.Damping = t.Damping + w.fit.Tuned*math.Sqrt(tr.Ratio)/4*tr.Effect*share
}

// pull adds the force of the mass on the roof to the storey drifts of the first mode, and judges
// the strength of the storeys by the sum. The roof sways with amplitude u at the frequency ws of
// the yielded frame, and the mass with it:
//
//	F/(m ws2 u) = (1 + 2 i zd p)/(1 - p2 + 2 i zd p),  p = ws/wt,  ws = w1/sqrt(ductility)
//
// its spring and damper together, of which the real part is in phase with the roof (steady state
// of an oscillator on a harmonic base, Chopra 2012, chapter 3). What F does to the first mode is
// its damping. The rest of it loads the storeys as a static force less its part in the mode:
//
//	r_i = 1 - sum over j >= i of m_j phi_j1/sum m phi_1^2
//	d_i <- |d_i + r_i Re F/k_i|,  dh_i <- sqrt(dh_i2 + (r_i Im F/k_i)2)
func (w *Work) pull(st *archetypes.Stick, mass float64) {
	t := &w.Trace
	tr, first := &t.TunedMass, &t.Modes[0]
	slow := 1 / math.Sqrt(tr.Ductility)
	seen := Tuning{tr.Tuning.Frequency / slow, tr.Tuning.Damping} // by the slower roof
	tr.Stroke = seen.Stroke(t.Roof)
	omega := 2 * math.Pi / first.Period * slow
	a, b := 1-1/(seen.Frequency*seen.Frequency), 2*seen.Damping/seen.Frequency
	scale := mass * omega * omega * t.Roof / (a*a + b*b)
	in, quadrature := scale*(a+b*b), scale*b*(1-a)
	tr.Force = math.Hypot(in, quadrature)
	modal := st.ModalMass()
	t.Pull = resize(t.Pull, st.N())
	rest := 1.0
	for i := st.N() - 1; i >= 0; i-- {
		rest -= st.Mass[i] * first.Shape[i] / modal
		k := st.Stiffness[i]
		t.First[i] = math.Abs(t.First[i] + rest*in/k)
		t.Pull[i] = rest * quadrature / k
	}
}

// pulled adds the force of a tuned mass to the drifts of the higher modes.
func (t *Trace) pulled() {
	for i, x := range t.Pull {
		t.Higher[i] = math.Hypot(t.Higher[i], x)
	}
}
