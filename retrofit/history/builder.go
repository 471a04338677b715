package history

import (
	"plinth/archetypes"
	"plinth/retrofit/demand"
)

// builder makes a model of a stick and a device. It implements demand.Model.
type builder struct {
	m  *Model
	st *archetypes.Stick
	o  Options
}

// frame builds the model of the stick alone.
func (b *builder) frame(k Kind) {
	b.m.kind, b.m.floors, b.m.height, b.m.period = k, b.st.N(), b.st.Height, b.st.Modes.Period[0]
	b.m.frame(b.st, b.o)
}

// Strengthen builds the stronger frame.
func (b *builder) Strengthen(d demand.Strengthening) (err error) {
	if b.st, err = strengthened(b.st, d); err != nil {
		return err
	}
	b.frame(Strengthened)
	return nil
}

// Damp adds viscous dampers to the storeys.
func (b *builder) Damp(d demand.Viscous) error {
	kind := ViscousNonlinear
	if d.Alpha == 1 {
		kind = ViscousLinear
	}
	b.frame(kind)
	return b.m.addViscous(b.st, d)
}

// Brace adds yielding devices to the storeys.
func (b *builder) Brace(d demand.Yielding) error {
	b.frame(Yielding)
	return b.m.addYielding(d)
}

// Tune adds a tuned mass on the roof.
func (b *builder) Tune(d demand.TunedMass) error {
	b.frame(TunedMass)
	return b.m.addTunedMass(b.st, d)
}

// Isolate adds isolators below the frame.
func (b *builder) Isolate(d demand.Isolation) error {
	b.m.kind, b.m.floors, b.m.height = LeadRubber, b.st.N(), b.st.Height
	if d.Kind == demand.Slider {
		b.m.kind = Slider
	}
	return b.m.isolate(b.st, d, b.o)
}
