package history_test

import (
	"fmt"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/hazard/motion"
	"plinth/retrofit/demand"
	"plinth/retrofit/history"
)

// A three-storey frame as it stands and with dampers, by spectrum and by time history.
func ExampleConfirmer() {
	st := archetypes.Stick{
		Mass:      []float64{2e5, 2e5, 2e5},
		Stiffness: []float64{24e7, 20e7, 14e7},
		Strength:  []float64{24e5, 20e5, 12.8e5},
		Height:    []float64{3, 3, 3},
		PostYield: 0.03, Degrading: 1,
	}
	var err error
	if st.Modes, err = archetypes.ChainModes(st.Mass, st.Stiffness); err != nil {
		fmt.Println(err)
		return
	}
	var site hazard.Spectrum
	if err = hazard.Eurocode8Type1.Elastic(&site, 'B', 0.3); err != nil {
		fmt.Println(err)
		return
	}
	set := motion.DefaultSettings()
	set.Records = 3
	library, err := motion.NewLibrary(set, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	suite, err := library.Suite(&site)
	if err != nil {
		fmt.Println(err)
		return
	}
	devices := []history.Device{nil, demand.Viscous{Alpha: 1, Damping: 0.2}}
	var c history.Confirmer
	for _, check := range c.Confirm(&st, suite, devices, history.Options{}, nil) {
		d := check.Compared[history.StoreyDrift]
		fmt.Printf("%s: %d records, band of drift %.0f %%, flagged %v\n",
			check.Kind, check.History.Runs, 100*d.Band, d.Outside)
	}
	// Output:
	// as it stands: 3 records, band of drift 21 %, flagged false
	// linear viscous: 3 records, band of drift 21 %, flagged false
}
