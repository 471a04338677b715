// Licences lists the licences of all code linked into a program: every module, on every
// platform of the program, and Go itself. It writes a page of the manual or, with -texts, the
// texts that accompany the binary. It fails if a licence is not recognised or not accepted.
//
//	go run ./cmd/licences cmd/plinth > docs/licences.md
//	go run ./cmd/licences -texts cmd/plinth > plinth.licences.txt
package main

import (
	"errors"
	"flag"
	"fmt"
	"os"
)

func main() {
	texts := flag.Bool("texts", false, "write the texts themselves, for the side of the binary")
	flag.Parse()
	if flag.NArg() != 1 {
		fmt.Fprintln(os.Stderr, "usage: licences [-texts] FOLDER-OF-A-PROGRAM")
		os.Exit(2)
	}
	if err := run(flag.Arg(0), *texts); err != nil {
		fmt.Fprintln(os.Stderr, "licences:", err)
		os.Exit(1)
	}
}

// run examines the program whose package is in folder.
func run(folder string, texts bool) error {
	modules, err := linked(folder)
	if err != nil {
		return err
	}
	var wrong []error
	for _, m := range modules {
		wrong = append(wrong, m.check()...)
	}
	if len(wrong) > 0 {
		return errors.Join(wrong...)
	}
	write := page
	if texts {
		write = carried
	}
	return write(os.Stdout, folder, modules)
}
