package retrofit

import (
	"plinth/archetypes"
	"plinth/retrofit/demand"
)

// A Built is the structure an Evaluate arrived at: a frame, strengthened or as it
// is, and the device on it. A time history starts from it.
type Built struct {
	Stick *archetypes.Stick // of the Case, or in the storage of the Work

	device    builtDevice
	isolation demand.Isolation
	viscous   demand.Viscous
	yielding  demand.Yielding
	mass      demand.TunedMass
}

// A builtDevice says which device a Built has.
type builtDevice uint8

const (
	noDevice builtDevice = iota
	builtIsolation
	builtViscous
	builtYielding
	builtMass
)

// Device returns the device, one of those of package demand, or nil for a frame
// alone.
func (b *Built) Device() any {
	switch b.device {
	case builtIsolation:
		return b.isolation
	case builtViscous:
		return b.viscous
	case builtYielding:
		return b.yielding
	case builtMass:
		return b.mass
	}
	return nil
}

func (b *Built) frame(st *archetypes.Stick) { b.Stick, b.device = st, noDevice }

func (b *Built) isolated(st *archetypes.Stick, d demand.Isolation) {
	b.Stick, b.device, b.isolation = st, builtIsolation, d
}

func (b *Built) damped(st *archetypes.Stick, d demand.Viscous) {
	b.Stick, b.device, b.viscous = st, builtViscous, d
}

func (b *Built) braced(st *archetypes.Stick, d demand.Yielding) {
	b.Stick, b.device, b.yielding = st, builtYielding, d
}

func (b *Built) tuned(st *archetypes.Stick, d demand.TunedMass) {
	b.Stick, b.device, b.mass = st, builtMass, d
}
