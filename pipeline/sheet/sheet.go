// Package sheet prints the calculation of one building so that a reviewer can follow it. Every
// number stands with its formula, the source of the formula, the inputs it was computed from, and
// whether each was given by the register, derived by a rule or assumed.
//
// A Sheet holds the calculation and all of its words. It is written as text for a terminal, as
// Markdown for a record, and as a page for paper. The three differ only in layout.
package sheet

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"plinth/pipeline/output"
)

// A Sheet is a calculation in sections.
type Sheet struct {
	Title    string
	Run      string // the run that the sheet belongs to
	Caution  string
	Sections []Section
}

// A Section is one step of the calculation.
type Section struct {
	Title  string
	Lines  []Line
	Items  []Item
	Tables []Table
	Notes  []string
}

// A Line is one number, or one fact in words, with its derivation.
type Line struct {
	Name    string  // what it is, with its symbol
	Value   float64 // NaN where Text says it
	Text    string  // a fact in words
	Unit    string
	Formula string
	Source  string // document, edition and clause, "judgement", or "" where the formula is a definition
	Inputs  string // the numbers that went in
	Origin  string // given, derived, assumed, computed; "" for a remark
}

// An Item is a sentence below a mark, such as a rule below its verdict.
type Item struct{ Mark, Text string }

// A Table holds one row of numbers for each storey, return period or rule.
type Table struct {
	Columns []string // headings, with units
	Rows    [][]string
}

// The headings of the columns of lines.
const (
	quantityHead = "quantity"
	valueHead    = "value"
	originHead   = "origin"
	formulaHead  = "formula"
	inputsHead   = "with"
	sourceHead   = "source"
	noteHead     = "Note"
	cautionHead  = "Caution"
)

// value returns the content of a line: the number with its unit, or the words.
func (l *Line) value() string {
	if l.Text != "" {
		return l.Text
	}
	return strings.TrimSpace(figure(l.Value) + " " + l.Unit)
}

// Calculation returns the lines as a table. Columns that are empty in all lines are left out.
func (s *Section) Calculation() *Table {
	t := &Table{}
	for _, column := range []struct {
		head string
		of   func(*Line) string
	}{
		{quantityHead, func(l *Line) string { return l.Name }}, {valueHead, (*Line).value},
		{originHead, func(l *Line) string { return l.Origin }},
		{formulaHead, func(l *Line) string { return l.Formula }},
		{inputsHead, func(l *Line) string { return l.Inputs }},
		{sourceHead, func(l *Line) string { return l.Source }},
	} {
		said := func(l Line) bool { return column.of(&l) != "" }
		if !slices.ContainsFunc(s.Lines, said) {
			continue
		}
		t.Columns = append(t.Columns, column.head)
		t.Rows = slices.Grow(t.Rows, len(s.Lines))[:len(s.Lines)]
		for i := range s.Lines {
			t.Rows[i] = append(t.Rows[i], column.of(&s.Lines[i]))
		}
	}
	return t
}

// line adds a computed number.
func (s *Section) line(name string, value float64, unit, formula, source, inputs string) {
	s.Lines = append(s.Lines, Line{name, value, "", unit, formula, source, inputs, "computed"})
}

// fact adds a computed result that is stated in words.
func (s *Section) fact(name, text, formula, source, inputs string) {
	s.Lines = append(s.Lines, Line{name, math.NaN(), text, "", formula, source, inputs, "computed"})
}

// table adds a table and returns it.
func (s *Section) table(columns ...string) *Table {
	s.Tables = append(s.Tables, Table{Columns: columns})
	return &s.Tables[len(s.Tables)-1]
}

// row adds a row to the table.
func (t *Table) row(cells ...string) { t.Rows = append(t.Rows, cells) }

// note adds a remark.
func (s *Section) note(text string) { s.Notes = append(s.Notes, text) }

// figure returns v to five significant digits. That is enough to redo the sums, and more than the
// method is good for.
func figure(v float64) string { return digits(v, 5) }

// cell returns v to four significant digits, for tables.
func cell(v float64) string { return digits(v, 4) }

func digits(v float64, n int) string {
	if math.IsNaN(v) {
		return "not known"
	}
	return strconv.FormatFloat(output.Round(v, n), 'g', -1, 64)
}
