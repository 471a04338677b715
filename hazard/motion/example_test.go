package motion_test

import (
	"fmt"
	"strings"

	"plinth/hazard"
	"plinth/hazard/motion"
)

// A suite for a site, and measures of its quality.
func ExampleLibrary_Suite() {
	var site hazard.Spectrum
	if err := hazard.Eurocode8Type1.Elastic(&site, 'B', 0.25); err != nil {
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
	a := suite.Assess()
	fmt.Printf("%d records, B(20 %%) %.1f, D5-95 %.0f s\n", len(suite.Records), a.B20, a.D595)
	// Output:
	// 3 records, B(20 %) 1.6, D5-95 3 s
}

// A record that cannot be used is reported with its place and reason.
func ExampleReadRecord() {
	_, err := motion.ReadRecord(strings.NewReader("time_s,acc_g\n0,0\n0.01,0.1\n0.03,0.2\n"), "quay.csv")
	fmt.Println(strings.ReplaceAll(err.Error(), "; ", ";\n"))
	// Output:
	// quay.csv:4, time "0.03": the step from the line before is 0.02 s and the first step 0.01 s;
	// interpolate the record to even steps
}
