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
}

// TunedMass fills out with the demand on st with a tuned mass d under sp. The mass acts as
// damping of the first mode. The effect decreases as the frame yields, since yielding detunes
// the mass.
//
//	ductility = max(1, u/min_i (V_i/(k_i |phi_i1 - phi_(i-1)1|))),  u without the mass
//	mm  = Mass/sum m phi_i1^2
//	L   = 1/(1 + ((sqrt(ductility) - 1)/sqrt(mm))2)
//	b_1 = b0 + 0.16 [fit] sqrt(mm)/4 L S
//
// The fit used the tuning of Sadek et al. 1997 for the mode, S = 1. For another tuning S is its
// added damping over that of Sadek's, both under white noise (TunedFrame), and the status is
// OutOfDomain. Beyond a strength ratio of 2 the benefit is under 5 %. A mass of 0 is AsIs; one
// that is negative or not finite is NotApplicable.
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
		tr := &w.Trace.TunedMass
		tr.Stroke = tr.Tuning.Stroke(w.Trace.Roof)
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
