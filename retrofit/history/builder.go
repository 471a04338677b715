package history

import (
	"plinth/archetypes"
	"plinth/retrofit/demand"
)

// A builder makes a model of a stick with what a device does to it: it is the
// demand.Model that devices see.
type builder struct {
	m  *Model
	st *archetypes.Stick
	o  Options
}

// frame makes the model that of the stick alone.
func (b *builder) frame(k Kind) {
	b.m.kind, b.m.floors, b.m.height, b.m.period = k, b.st.N(), b.st.Height, b.st.Modes.Period[0]
	b.m.frame(b.st, b.o)
}

// Strengthen makes the frame the stronger one.
func (b *builder) Strengthen(d demand.Strengthening) (err error) {
	if b.st, err = strengthened(b.st, d); err != nil {
		return err
	}
	b.frame(Strengthened)
	return nil
}

// Damp puts viscous dampers into the storeys.
func (b *builder) Damp(d demand.Viscous) error {
	kind := ViscousNonlinear
	if d.Alpha == 1 {
		kind = ViscousLinear
	}
	b.frame(kind)
	return b.m.addViscous(b.st, d)
}

// Brace puts devices that yield beside the storeys.
func (b *builder) Brace(d demand.Yielding) error {
	b.frame(Yielding)
	return b.m.addYielding(d)
}

// Tune hangs a tuned mass on the roof.
func (b *builder) Tune(d demand.TunedMass) error {
	b.frame(TunedMass)
	return b.m.addTunedMass(b.st, d)
}

// Isolate sets the frame on isolators.
func (b *builder) Isolate(d demand.Isolation) error {
	b.m.kind, b.m.floors, b.m.height = LeadRubber, b.st.N(), b.st.Height
	if d.Kind == demand.Slider {
		b.m.kind = Slider
	}
	return b.m.isolate(b.st, d, b.o)
}
