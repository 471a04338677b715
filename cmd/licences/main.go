// Licences says under which licences everything that is linked into a program comes:
// every module of every platform it is built for, and Go itself, as a page of the
// manual or, with -texts, as the texts that go along with the binary. It ends with an
// error where a licence is not recognised or not accepted.
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

// run looks at the program whose package is in folder.
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
