// Command fidelity measures spectral demand against time histories and writes the page
// docs/fidelity.md. It takes minutes.
//
// fidelity fit refits the constants of package demand and prints them.
package main

import (
	"fmt"
	"os"

	"plinth/cmd/internal/keep"
	"plinth/retrofit/history/fidelity"
)

// every is the number of buildings of the validation grid for one under long records. It is no
// divisor of the number of strength ratios, so that all of them occur.
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

// page writes docs/fidelity.md to standard output, with the history of the page that is there.
func page() error {
	kept, err := keep.History("docs/fidelity.md")
	if err != nil {
		return err
	}
	fit, validation, irregular := fidelity.Fit(), fidelity.Validation(), fidelity.Irregular()
	short, long := fidelity.LongOf(validation, every)
	m, err := measure(&fit, &validation, &irregular, &short, &long)
	if err != nil {
		return err
	}
	return fidelity.Write(os.Stdout, kept, m[0], m[1], m[2], m[3], m[4])
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

// measure runs grids and reports its progress on standard error.
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
