// Command measured holds the program against measured buildings, observed damage, element
// tests and printed design forces. It writes the page of it, docs/measured.md, to standard
// output, and the line about it into the report (pipeline/report/measured.txt) and into
// docs/limits.md. It is run from the root of the repository and takes a second.
package main

import (
	"fmt"
	"os"
	"path/filepath"

	"plinth/pipeline/measured"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "measured:", err)
		os.Exit(1)
	}
}

func run() error {
	c, err := measured.Compare(os.DirFS(filepath.Join("testdata", "measured")))
	if err != nil {
		return err
	}
	if err := c.WriteLine("."); err != nil {
		return err
	}
	return c.Write(os.Stdout)
}
