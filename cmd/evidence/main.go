// Evidence says what every row of the embedded tables rests on: a source that was read, one
// remembered, common practice or judgement, and whether a published value stands beside it. It
// writes the page of the manual that counts them, and ends with an error where a row's source
// has none of the known forms.
//
//	go run ./cmd/evidence > docs/evidence.md
package main

import (
	"fmt"
	"os"
)

func main() {
	page, err := write(os.DirFS("."))
	if err != nil {
		fmt.Fprintln(os.Stderr, "evidence:", err)
		os.Exit(1)
	}
	if _, err := page.WriteTo(os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "evidence:", err)
		os.Exit(1)
	}
}
