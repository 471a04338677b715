package demand_test

import (
	"fmt"
	"math"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/retrofit/demand"
)

// A three-storey frame of 200 t a floor as it stands and with 15 % of added
// damping, under a spectrum of 0.36 g peak ground acceleration.
func ExampleWork() {
	st := archetypes.Stick{
		Mass:      []float64{2e5, 2e5, 2e5},
		Stiffness: []float64{24e7, 20e7, 14e7},
		Strength:  []float64{12e5, 10e5, 6.4e5},
		Height:    []float64{3, 3, 3},
		PostYield: 0.03, Degrading: 1,
	}
	modes, err := archetypes.ChainModes(st.Mass, st.Stiffness)
	if err != nil {
		fmt.Println(err)
		return
	}
	st.Modes = modes
	var sp hazard.Spectrum
	sp.Set(hazard.NewAxis([]float64{0.15, 0.5, 2}), 0.36,
		[]float64{math.Log(0.9), math.Log(0.9), math.Log(0.225)})

	var w demand.Work
	var asIs, damped demand.Response
	w.AsIs(&st, &sp, &asIs)
	w.Viscous(&st, &sp, demand.Viscous{Alpha: 1, Damping: 0.15}, &damped)
	fmt.Printf("period %.2f s, strength ratio %.1f\n", asIs.Period, asIs.Ductility)
	fmt.Printf("drift ratio %.2f %%, with dampers %.2f %%\n", 100*asIs.DriftRatio, 100*damped.DriftRatio)
	// Output:
	// period 0.44 s, strength ratio 3.8
	// drift ratio 1.36 %, with dampers 0.63 %
}
