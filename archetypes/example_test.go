package archetypes_test

import (
	"fmt"

	"plinth/archetypes"
)

// A seven-storey concrete frame designed in 1967, of which no report exists.
func ExampleTables_Assign() {
	region, err := archetypes.Default().ParseRegion("us-west")
	if err != nil {
		fmt.Println(err)
		return
	}
	d := archetypes.Unknown()
	d.System, d.Region, d.Zone = archetypes.ConcreteFrame, region, 1
	d.Year, d.Storeys, d.FloorArea = 1967, 7, 5600

	var a archetypes.Archetype
	if err := archetypes.Default().Assign(&d, &a); err != nil {
		fmt.Println(err)
		return
	}
	var s archetypes.Stick
	a.Build(&s)
	fmt.Printf("T %.2f s, Vy/W %.2f, %s\n", a.Period, a.StrengthRatio, a.Detailing)
	fmt.Printf("ground storey %.1f MN, top storey %.1f MN\n", s.Strength[0]/1e6, s.Strength[6]/1e6)
	fmt.Println(a.Basis[archetypes.PeriodValue].Text)
	// Output:
	// T 0.92 s, Vy/W 0.14, non-ductile
	// ground storey 7.9 MN, top storey 2.2 MN
	// T = sqrt(Tl Tu), bounds 0.04661 H^0.9 and 0.06701 H^0.9, H in m
}
