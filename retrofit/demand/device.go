package demand

import (
	"plinth/archetypes"
	"plinth/hazard"
)

// Device is a retrofit device on a frame. It has both methods: spectral demand, and its part in
// a model for time histories.
type Device interface {
	// Demand fills out with the demand on st with the device under sp; asIs is the demand
	// without it. Isolators have nominal properties, as in time histories.
	Demand(w *Work, st *archetypes.Stick, sp *hazard.Spectrum, asIs, out *Response)

	// Attach adds the device to a model, or returns why it cannot act there.
	Attach(m Model) error
}

// Model is a model for time histories as a device sees it: one method for each kind of change
// to a frame. Package history implements it.
type Model interface {
	Strengthen(Strengthening) error
	Damp(Viscous) error
	Brace(Yielding) error
	Tune(TunedMass) error
	Isolate(Isolation) error
}

// Demand fills out as Work.Strengthened does.
func (d Strengthening) Demand(w *Work, st *archetypes.Stick, sp *hazard.Spectrum, _, out *Response) {
	w.Strengthened(st, sp, d, out)
}

// Attach strengthens the frame of m.
func (d Strengthening) Attach(m Model) error { return m.Strengthen(d) }

// Demand fills out as Work.Viscous does.
func (d Viscous) Demand(w *Work, st *archetypes.Stick, sp *hazard.Spectrum, _, out *Response) {
	w.Viscous(st, sp, d, out)
}

// Attach puts dampers into the storeys of m.
func (d Viscous) Attach(m Model) error { return m.Damp(d) }

// Demand fills out as Work.Yielding does.
func (d Yielding) Demand(w *Work, st *archetypes.Stick, sp *hazard.Spectrum, _, out *Response) {
	w.Yielding(st, sp, d, out)
}

// Attach puts braces that yield into the storeys of m.
func (d Yielding) Attach(m Model) error { return m.Brace(d) }

// Demand fills out as Work.TunedMass does.
func (d TunedMass) Demand(w *Work, st *archetypes.Stick, sp *hazard.Spectrum, _, out *Response) {
	w.TunedMass(st, sp, d, out)
}

// Attach hangs the mass on the roof of m.
func (d TunedMass) Attach(m Model) error { return m.Tune(d) }

// Demand fills out as Work.Isolated does with nominal isolators.
func (d Isolation) Demand(w *Work, st *archetypes.Stick, sp *hazard.Spectrum, asIs, out *Response) {
	d.Upper, d.Lower = Bound{}, Bound{}
	w.Isolated(st, sp, d, asIs, out)
}

// Attach sets m on isolators.
func (d Isolation) Attach(m Model) error { return m.Isolate(d) }
