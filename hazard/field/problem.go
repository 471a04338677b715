package field

import (
	"fmt"
	"strings"
)

// maxProblems is the number of problems of one source that are reported; the rest are only
// counted.
const maxProblems = 20

// Problem is one fault of a source, with its place and remedy.
type Problem struct {
	File   string
	Line   int    // from 1; 0 for the whole file or an option
	Column string // name of the column, property or option
	Value  string // as written, "" if none
	Rule   string // what is wrong
	Remedy string // what to do
}

// Error returns the problem on one line: file:line: column = value: rule; remedy.
func (p Problem) Error() string {
	var b strings.Builder
	b.WriteString(p.File)
	if p.Line > 0 {
		fmt.Fprintf(&b, ":%d", p.Line)
	}
	switch {
	case p.Column != "" && p.Value != "":
		fmt.Fprintf(&b, ": %s = %q", p.Column, p.Value)
	case p.Column != "":
		b.WriteString(": " + p.Column)
	case p.Value != "":
		fmt.Fprintf(&b, ": %q", p.Value)
	}
	b.WriteString(": " + p.Rule)
	if p.Remedy != "" {
		b.WriteString("; " + p.Remedy)
	}
	return b.String()
}

// Problems is the error of a source that cannot be used: the first problems in the order found,
// and the number of further ones.
type Problems struct {
	List []Problem
	More int
}

// Error returns one problem a line.
func (ps *Problems) Error() string {
	lines := make([]string, len(ps.List), len(ps.List)+1)
	for i, p := range ps.List {
		lines[i] = p.Error()
	}
	if ps.More > 0 {
		lines = append(lines, fmt.Sprintf("and %d more", ps.More))
	}
	return strings.Join(lines, "\n")
}

// Unwrap returns the problems one by one, for errors.As.
func (ps *Problems) Unwrap() []error {
	errs := make([]error, len(ps.List))
	for i, p := range ps.List {
		errs[i] = p
	}
	return errs
}

// add records a problem.
func (ps *Problems) add(p Problem) {
	if len(ps.List) < maxProblems {
		ps.List = append(ps.List, p)
	} else {
		ps.More++
	}
}

// err returns ps as an error, nil if there is no problem.
func (ps *Problems) err() error {
	if len(ps.List) == 0 {
		return nil
	}
	return ps
}

// needNodes records a problem if a file that has no other has no nodes.
func (ps *Problems) needNodes(file string, nodes int) {
	if nodes == 0 && ps.err() == nil {
		ps.add(Problem{File: file, Rule: "no row holds values", Remedy: "give at least one node"})
	}
}
