package field_test

import (
	"errors"
	"fmt"
	"strings"

	"plinth/hazard"
	"plinth/hazard/field"
)

// Four nodes off a fictional coast, read at the return periods of a run.
func ExampleReadGrid() {
	const file = `lon,lat,return_period_yr,pga,sa_0.2,sa_1
-30.0,40.0,475,0.20,0.50,0.20
-29.9,40.0,475,0.30,0.75,0.30
-30.0,40.1,475,0.20,0.50,0.20
-29.9,40.1,475,0.30,0.75,0.30
`
	f, err := field.ReadGrid(strings.NewReader(file), "hazard.csv", field.Options{
		ReturnPeriods: []float64{475, 3800},
		K:             3, // carries the one level of the file to 3800 yr
		SoilIncluded:  true,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	var site hazard.Site // filled again and again
	for _, lon := range []float64{-29.95, -29.5} {
		var outside *field.OutsideError
		if err := f.Lookup(lon, 40.02, 'C', &site); errors.As(err, &outside) {
			fmt.Printf("outside by %.0f km\n", outside.DistanceM/1000)
			continue
		}
		for i, t := range site.ReturnPeriod {
			fmt.Printf("%.0f yr: PGA %.3f g, Sa(1 s) %.3f g\n", t, site.Spectra[i].PGA, site.Spectra[i].Sa(1))
		}
		fmt.Println(strings.Join(site.Status.Words(), ", "))
	}
	// Output:
	// 475 yr: PGA 0.245 g, Sa(1 s) 0.245 g
	// 3800 yr: PGA 0.490 g, Sa(1 s) 0.490 g
	// return periods scaled from one level by a power law
	// outside by 34 km
}
