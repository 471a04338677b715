package inventory

import (
	"fmt"
	"strings"

	"plinth/pipeline/page"
)

// A Reject is a row that cannot be used, and why. It is an error that helps:
// where it is, what was found, by which rule, what to do.
type Reject struct {
	File   string
	Line   int    // first line 1; a feature's number in formats without lines
	ID     string // "" if the row has none
	Column string // the register's name of the column, "" where it is the whole row
	Raw    string // as the register has it
	Rule   Rule
	Detail string // what the rule's words cannot know, such as the first line of a duplicate
}

// Error returns the reject on one line.
func (r *Reject) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s:%d: ", r.File, r.Line)
	if r.ID != "" {
		fmt.Fprintf(&b, "building %s: ", printable(r.ID))
	}
	if r.Column != "" {
		fmt.Fprintf(&b, "column %s = %q: ", r.Column, r.Raw)
	}
	b.WriteString(r.Rule.Spec().Finding)
	if r.Detail != "" {
		b.WriteString(" (" + r.Detail + ")")
	}
	b.WriteString("; " + r.Remedy())
	return page.Harmless(b.String())
}

// Remedy returns what the owner can do about the reject.
func (r *Reject) Remedy() string { return r.Rule.Spec().Remedy }

// A Finding is something a rule noticed in a row that is still used.
type Finding struct {
	Line   int
	ID     string
	Column string // the register's name of the column
	Raw    string // as the register has it
	Used   string // what was used in its place, "" if it was taken as missing or kept
	Rule   Rule
}

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

// printable returns s shortened, with what a terminal would obey replaced.
func printable(s string) string { return page.Harmless(clip(s)) }
