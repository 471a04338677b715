package demand

import (
	"plinth/archetypes"
	"plinth/hazard"
	"plinth/hazard/elementary"
)

// Strengthening is a frame made stronger and usually stiffer: the future storeys, frame and
// addition together.
type Strengthening struct {
	Stiffness []float64 // N/m
	Strength  []float64 // N
}

// StiffnessFactor returns the factor on stiffness for a factor on strength if the addition is
// not yet designed.
//
//	k x f^0.7
//
// Judgement: walls and frames of a given drift at yield gain stiffness in proportion, jackets
// and added bars less.
func StiffnessFactor(strength float64) float64 {
	return elementary.Pow(strength, archetypes.StiffnessExponent)
}

// Scale sets s to the storeys of st with strength times factor and stiffness times
// StiffnessFactor(factor). It reuses the storage of s.
func (s *Strengthening) Scale(st *archetypes.Stick, factor float64) {
	s.Stiffness, s.Strength = resize(s.Stiffness, st.N()), resize(s.Strength, st.N())
	k := StiffnessFactor(factor)
	for i := range st.N() {
		s.Stiffness[i], s.Strength[i] = st.Stiffness[i]*k, st.Strength[i]*factor
	}
}

// Strengthened fills out with the demand on st with its storeys as in d under sp. It is AsIs
// with the new stiffnesses, strengths and modes: the period shortens, and floor accelerations
// rise with it (by 8 to 50 % in time histories). Masses stay; a heavy addition needs a new
// stick.
//
// A number that is not finite and positive is NotApplicable.
func (w *Work) Strengthened(st *archetypes.Stick, sp *hazard.Spectrum, d Strengthening, out *Response) {
	n := st.N()
	if len(d.Stiffness) != n || len(d.Strength) != n {
		panic("demand: strengthening needs one value a storey")
	}
	if !w.load(st, out) {
		return
	}
	for i, k := range d.Stiffness {
		if !positive(k) || !positive(d.Strength[i]) {
			out.void(n)
			return
		}
		w.kr[i] = st.PostYield * k
	}
	t := &w.Trace
	t.Stiffness, t.Strength = d.Stiffness, d.Strength
	w.modes(st, d.Stiffness)
	w.read(sp)
	w.displace(sp)
	w.finish(st, sp, out)
}
