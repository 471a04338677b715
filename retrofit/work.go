package retrofit

import (
	"plinth/archetypes"
	"plinth/retrofit/demand"
)

// Work is the scratch space of one goroutine. The zero value is ready.
type Work struct {
	Demand demand.Work
	Built  Built // set by the last Evaluate that was not barred

	values     Values           // of the current building and measure
	trial      demand.Response  // of the design on trial
	stick      archetypes.Stick // strengthened copy of the building's
	stiffness  []float64        // N/m, of devices, one for each storey
	force      []float64        // N, of devices, one for each storey
	isolation  demand.Isolation // storage of Built, as are the next three
	viscous    demand.Viscous
	yielding   demand.Yielding
	mass       demand.TunedMass
	stronger   Case            // the building strengthened, before isolation
	rests      []demand.Starts // sized displacements of the grid of an isolation search, for first guesses
	sizing     sizing          // shaking for which isolators are sized
	levelShare float64         // displacement at the design level over the sized one, of the last design
}
