package consequence_test

import (
	"fmt"

	"plinth/retrofit/consequence"
)

// A clinic as it stands and on isolators, at four return periods.
func Example() {
	m, err := consequence.New(consequence.DefaultOptions())
	if err != nil {
		fmt.Println(err)
		return
	}
	years := []float64{10, 43, 475, 2475}
	rule := consequence.NewRule(years, years, years)
	even := consequence.Even
	asIs := []consequence.Level{
		{DriftRatio: 0.002, Drift: even(0.0015), Accel: even(0.08), Contents: even(0.08)},
		{DriftRatio: 0.004, Drift: even(0.003), Accel: even(0.15), Contents: even(0.15)},
		{DriftRatio: 0.015, Drift: even(0.010), Accel: even(0.45), Contents: even(0.45)},
		{DriftRatio: 0.030, Drift: even(0.020), Accel: even(0.70), Contents: even(0.70)},
	}
	isolated := []consequence.Level{
		{DriftRatio: 0.0005, Drift: even(0.0005), Accel: even(0.05), Contents: even(0.05), Displacement: 0.03},
		{DriftRatio: 0.001, Drift: even(0.001), Accel: even(0.08), Contents: even(0.08), Displacement: 0.05},
		{DriftRatio: 0.003, Drift: even(0.003), Accel: even(0.18), Contents: even(0.18), Displacement: 0.20},
		{DriftRatio: 0.006, Drift: even(0.005), Accel: even(0.28), Contents: even(0.28), Displacement: 0.45},
	}

	doubt := consequence.Budget{Capacity: 0.55, Knowledge: 0.25, Steepness: 1.2}
	e := consequence.Exposure{Value: 10e6, OccupantsDay: 200, OccupantsNight: 40,
		Limits: [3]float64{0.01, 0.02, 0.04}, Collapse: 0.06, Irreparable: m.Irreparable(0.004),
		Volume: 0.3, Fatality: 0.4}
	e.Split, _ = m.Split("clinic")
	e.Spread, _ = m.Spread("none", doubt)
	var before, after consequence.Annual
	m.Annual(&e, asIs, &rule, &before)

	e.Displacement = 0.75
	e.Spread, _ = m.Spread("lead-rubber", doubt)
	m.Annual(&e, isolated, &rule, &after)

	fmt.Printf("loss a year: %.0f as it stands, %.0f isolated\n", before.Total, after.Total)
	for _, b := range consequence.Appraise(before.Total-after.Total, 900e3, 50, 0.04) {
		fmt.Printf("at %.0f %%: benefit %.0f, over cost %.2f\n", 100*b.Rate, b.Present, b.Ratio)
	}
	// Output:
	// loss a year: 74983 as it stands, 5075 isolated
	// at 4 %: benefit 1501783, over cost 1.67
	// at 3 %: benefit 1798725, over cost 2.00
	// at 7 %: benefit 964787, over cost 1.07
}
