package hazard_test

import (
	"fmt"

	"plinth/hazard"
)

// A design spectrum of ASCE 7-16, and the same site at other return periods by a
// declared power law.
func ExampleASCE7() {
	class, _, err := hazard.ASCE7ClassOf('D', true)
	if err != nil {
		fmt.Println(err)
		return
	}
	v, err := hazard.ASCE7(hazard.ASCE716, class, 1.02, 0.35)
	if err != nil {
		fmt.Println(err)
		return
	}
	var design hazard.Spectrum
	if err := hazard.TwoPeriod(&design, v.SDS, v.SD1, 8); err != nil {
		fmt.Println(err)
		return
	}
	site := hazard.Site{ReturnPeriod: []float64{224, 475, 975}, Status: v.Status}
	if err := site.ExtendPowerLaw(&design, 475, 3); err != nil {
		fmt.Println(err)
		return
	}
	for i := range site.Spectra {
		fmt.Printf("%4.0f yr: Sa(1 s) %.3f g\n", site.ReturnPeriod[i], site.Spectra[i].Sa(1))
	}
	for _, w := range site.Status.Words() {
		fmt.Println(w)
	}
	// Output:
	//  224 yr: Sa(1 s) 0.354 g
	//  475 yr: Sa(1 s) 0.455 g
	//  975 yr: Sa(1 s) 0.578 g
	// return periods scaled from one level by a power law
	// the standard requires a site-specific study
}

func ExampleEurocode8Parameters_Elastic() {
	var s hazard.Spectrum
	if err := hazard.Eurocode8Type1.Elastic(&s, 'B', 0.25); err != nil {
		fmt.Println(err)
		return
	}
	eta := 1 / hazard.ReductionEN1998(0.10)
	fmt.Printf("Se(1 s) %.3f g at 5 %%, %.3f g at 10 %%\n", s.Sa(1), s.Sa(1)*eta)
	// Output:
	// Se(1 s) 0.375 g at 5 %, 0.306 g at 10 %
}

func ExampleCurve_Sa() {
	c, err := hazard.NewCurve([]float64{0.1, 0.2, 0.4, 0.8}, []float64{2e-2, 6e-3, 1.5e-3, 2e-4})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range []float64{0.10, 0.005} {
		sa, status := c.Sa(hazard.AnnualFrequency(p, 50))
		fmt.Printf("%.3f g", sa)
		for _, w := range status.Words() {
			fmt.Print(", ", w)
		}
		fmt.Println()
	}
	// Output:
	// 0.337 g
	// 0.800 g, return period above the source's range
}
