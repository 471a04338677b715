// Command fidelity measures spectral demand against time histories and writes the
// page of it to standard output, for docs/fidelity.md. It takes minutes.
//
// fidelity fit fits the constants of package demand anew and prints them.
package main

import (
	"fmt"
	"os"

	"plinth/retrofit/history/fidelity"
)

// every is how many buildings of the validation grid one stands for under long records:
// no divisor of the strength ratios, so that it meets all of them.
const every = 5

func main() {
	act := page
	if len(os.Args) > 1 && os.Args[1] == "fit" {
		act = refit
	}
	if err := act(); err != nil {
		fmt.Fprintln(os.Stderr, "fidelity:", err)
		os.Exit(1)
	}
}

// page writes docs/fidelity.md.
func page() error {
	fit, validation, irregular := fidelity.Fit(), fidelity.Validation(), fidelity.Irregular()
	short, long := fidelity.LongOf(validation, every)
	m, err := measure(&fit, &validation, &irregular, &short, &long)
	if err != nil {
		return err
	}
	return fidelity.Write(os.Stdout, m[0], m[1], m[2], m[3], m[4])
}

// refit fits the constants and prints them, for fit.go of package demand.
func refit() error {
	fit, validation := fidelity.Fit(), fidelity.Validation()
	m, err := measure(&fit, &validation)
	if err != nil {
		return err
	}
	f, err := fidelity.Refit(m[0], m[1], os.Stdout)
	if err != nil {
		return err
	}
	fmt.Printf("%+v\n", f)
	return nil
}

// measure runs grids and tells standard error how far it is.
func measure(grids ...*fidelity.Grid) ([]*fidelity.Measured, error) {
	var out []*fidelity.Measured
	for _, g := range grids {
		m, err := fidelity.Measure(g, func(done, all int) {
			if done%(1+all/10) == 0 || done == all {
				fmt.Fprintf(os.Stderr, "%s: %d of %d buildings\n", g.Name, done, all)
			}
		})
		if err != nil {
			return nil, err
		}
		out = append(out, m)
	}
	return out, nil
}
