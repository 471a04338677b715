package retrofit

import (
	"plinth/archetypes"
	"plinth/retrofit/demand"
)

// Work is the scratch space of one goroutine. The zero value is ready.
type Work struct {
	Demand demand.Work
	Built  Built // by the last Evaluate that was not barred

	values    Values           // of the building and measure at hand
	trial     demand.Response  // of a design being tried
	stick     archetypes.Stick // strengthened copy of the building's
	stiffness []float64        // N/m, of devices, a storey each
	force     []float64        // N, of devices, a storey each
	isolation demand.Isolation // of Built, as the next three are
	viscous   demand.Viscous
	yielding  demand.Yielding
	mass      demand.TunedMass
	stronger  Case            // the building strengthened, before it is isolated
	designs   []Design        // the grid of an isolation search
	rests     []demand.Starts // where its designs came to rest
}
