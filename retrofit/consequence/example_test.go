package consequence_test

import (
	"fmt"

	"plinth/retrofit/consequence"
)

// A clinic as it stands and on isolators, at three return periods.
func Example() {
	m, err := consequence.New(consequence.DefaultOptions())
	if err != nil {
		fmt.Println(err)
		return
	}
	freq := []float64{1.0 / 43, 1.0 / 475, 1.0 / 2475}
	even := consequence.Even
	asIs := []consequence.Level{
		{DriftRatio: 0.004, Drift: even(0.003), Accel: even(0.15)},
		{DriftRatio: 0.015, Drift: even(0.010), Accel: even(0.45)},
		{DriftRatio: 0.030, Drift: even(0.020), Accel: even(0.70)},
	}
	isolated := []consequence.Level{
		{DriftRatio: 0.001, Drift: even(0.001), Accel: even(0.08), Displacement: 0.05},
		{DriftRatio: 0.003, Drift: even(0.003), Accel: even(0.18), Displacement: 0.20},
		{DriftRatio: 0.006, Drift: even(0.005), Accel: even(0.28), Displacement: 0.45},
	}

	e := consequence.Exposure{Value: 10e6, OccupantsDay: 200, OccupantsNight: 40,
		Limits: [3]float64{0.01, 0.02, 0.04}}
	e.Split, _ = m.Split("clinic")
	e.Spread, _ = m.Spread("none", 0.25)
	var before, after consequence.Annual
	m.Annual(&e, asIs, freq, &before)

	e.Displacement = 0.75
	e.Spread, _ = m.Spread("lead-rubber", 0.25)
	m.Annual(&e, isolated, freq, &after)

	fmt.Printf("loss a year: %.0f as it stands, %.0f isolated\n", before.Total, after.Total)
	for _, b := range consequence.Appraise(before.Total-after.Total, 900e3, 50, 0.04) {
		fmt.Printf("at %.0f %%: benefit %.0f, over cost %.2f\n", 100*b.Rate, b.Present, b.Ratio)
	}
	// Output:
	// loss a year: 59072 as it stands, 8228 isolated
	// at 4 %: benefit 1092244, over cost 1.21
	// at 3 %: benefit 1308208, over cost 1.45
	// at 7 %: benefit 701687, over cost 0.78
}
