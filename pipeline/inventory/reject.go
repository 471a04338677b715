package inventory

import (
	"fmt"
	"strings"

	"plinth/pipeline/inventory/fault"
	"plinth/pipeline/page"
)

// A Reject is a row that cannot be used. It says where the row is, what was found, which rule rejects it
// and what to do.
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
		fmt.Fprintf(&b, "building %s: ", fault.Shown(r.ID))
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

// A Finding is what a rule notes about a row that is still used.
type Finding struct {
	Line   int
	ID     string
	Column string // the register's name of the column
	Raw    string // as the register has it
	Used   string // what was used in its place, "" if it was taken as missing or kept
	Rule   Rule
}
