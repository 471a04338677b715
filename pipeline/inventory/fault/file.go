package fault

import (
	"fmt"
	"strings"

	"plinth/pipeline/page"
)

// A FileError is something wrong with a register as a whole or with how the plan
// maps it, so that no row can be read.
type FileError struct {
	File   string
	Line   int    // 0 for the whole file
	Key    string // of the plan, such as inventory.units.height; "" if the plan is not at fault
	Column string // of the register
	Value  string // as found, or a sample of the column
	Rule   string // what is wrong
	Remedy string // what to do
	Err    error  // the cause, may be nil
}

// Error returns the problem on one line, harmless: names of columns and tables are an
// owner's text.
func (e *FileError) Error() string {
	var b strings.Builder
	b.WriteString(e.File)
	if e.Line > 0 {
		fmt.Fprintf(&b, ":%d", e.Line)
	}
	b.WriteString(": ")
	if e.Key != "" {
		b.WriteString(e.Key + ": ")
	}
	if e.Column != "" {
		fmt.Fprintf(&b, "column %q: ", e.Column)
	}
	b.WriteString(e.Rule)
	if e.Value != "" {
		b.WriteString(" (" + e.Value + ")")
	}
	if e.Err != nil {
		b.WriteString(": " + e.Err.Error())
	}
	if e.Remedy != "" {
		b.WriteString("; " + e.Remedy)
	}
	return page.Harmless(strings.ReplaceAll(b.String(), "\n", "; "))
}

// Unwrap returns the cause.
func (e *FileError) Unwrap() error { return e.Err }
