// Command fidelity measures spectral demand against time histories and writes the
// page of it to standard output, for docs/fidelity.md. It takes minutes.
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
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "fidelity:", err)
		os.Exit(1)
	}
}

func run() error {
	fit, validation := fidelity.Fit(), fidelity.Validation()
	short, long := fidelity.LongOf(validation, every)
	var measured []*fidelity.Measured
	for _, g := range []*fidelity.Grid{&fit, &validation, &short, &long} {
		m, err := fidelity.Measure(g, func(done, all int) {
			if done%(1+all/10) == 0 || done == all {
				fmt.Fprintf(os.Stderr, "%s: %d of %d buildings\n", g.Name, done, all)
			}
		})
		if err != nil {
			return err
		}
		measured = append(measured, m)
	}
	return fidelity.Write(os.Stdout, measured[0], measured[1], measured[2], measured[3])
}
