package plan

import (
	"fmt"
	"sort"
	"strings"
)

// A Problem is one fault of a plan, with its place and what to write instead.
type Problem struct {
	File   string
	Line   int // 1 is the first; 0 where the plan lacks the key
	Column int
	Key    string // dotted, such as hazard.unit
	Value  string // as written, "" if none
	Rule   string // what is wrong
	Remedy string // what to write instead
}

// Error returns the problem on one line: file:line:column: key = value: rule; remedy.
func (p Problem) Error() string {
	var b strings.Builder
	b.WriteString(p.File)
	if p.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", p.Line, p.Column)
	}
	b.WriteString(": ")
	if p.Key != "" {
		b.WriteString(p.Key)
		if p.Value != "" {
			fmt.Fprintf(&b, " = %s", p.Value)
		}
		b.WriteString(": ")
	}
	b.WriteString(p.Rule)
	if p.Remedy != "" {
		b.WriteString("; " + p.Remedy)
	}
	return b.String()
}

// Problems holds every problem of a plan in the order of the file. Problems of missing keys come
// last. It is the error that Load returns.
type Problems []Problem

// Error returns one problem on each line.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

func (ps Problems) sort() {
	sort.SliceStable(ps, func(i, j int) bool {
		a, b := ps[i], ps[j]
		if (a.Line == 0) != (b.Line == 0) {
			return b.Line == 0
		}
		if a.Line != b.Line {
			return a.Line < b.Line
		}
		if a.Column != b.Column {
			return a.Column < b.Column
		}
		return a.Key < b.Key
	})
}

// oneOf returns the remedy "write one of a, b or c".
func oneOf(choices []string) string {
	switch n := len(choices); n {
	case 0:
		return ""
	case 1:
		return "write " + choices[0]
	default:
		return "write one of " + strings.Join(choices[:n-1], ", ") + " or " + choices[n-1]
	}
}
