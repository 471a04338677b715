// Package sheet prints the calculation of one building, for a reviewer to follow:
// every number with its formula, the source of the formula, the inputs it was
// computed from, and whether each was given by the register, derived by a rule
// or assumed.
package sheet

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"plinth/pipeline/output"
	"plinth/pipeline/page"
)

// A Sheet is a calculation in sections.
type Sheet struct {
	Title    string
	Sections []Section
}

// A Section is one step of the calculation.
type Section struct {
	Title string
	Lines []Line
	Items []Item
	Table *Table
	Notes []string
}

// A Line is one number, or one fact in words, and how it came about.
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

// An Item is a sentence under a mark, such as a rule under its verdict.
type Item struct{ Mark, Text string }

// A Table holds numbers a storey, a return period or a rule each.
type Table struct {
	Columns []string // heads, with units
	Rows    [][]string
}

// line adds a computed number.
func (s *Section) line(name string, value float64, unit, formula, source, inputs string) {
	s.Lines = append(s.Lines, Line{name, value, "", unit, formula, source, inputs, "computed"})
}

// note adds a remark.
func (s *Section) note(text string) { s.Notes = append(s.Notes, text) }

// figure returns v to five significant digits: enough to redo the sums, more
// than the method is good for.
func figure(v float64) string { return digits(v, 5) }

// cell returns v to four significant digits, for tables.
func cell(v float64) string { return digits(v, 4) }

func digits(v float64, n int) string {
	if math.IsNaN(v) {
		return "not known"
	}
	return strconv.FormatFloat(output.Round(v, n), 'g', -1, 64)
}

// figures returns values separated by spaces.
func figures(values []float64) string {
	parts := make([]string, len(values))
	for i, v := range values {
		parts[i] = figure(v)
	}
	return strings.Join(parts, " ")
}

// Write writes the sheet as text of 80 columns.
func (s *Sheet) Write(to io.Writer) error {
	w := page.New(to)
	w.Wrap("", s.Title)
	for i := range s.Sections {
		s.Sections[i].write(w)
	}
	w.Heading("Caution")
	w.Wrap("", output.Caution)
	return w.Flush()
}

func (s *Section) write(w *page.Writer) {
	w.Heading(s.Title)
	for i := range s.Lines {
		s.Lines[i].write(w)
	}
	for _, it := range s.Items {
		w.Wrap(fmt.Sprintf("%-8s ", it.Mark), it.Text)
	}
	if s.Table != nil {
		s.Table.write(w)
	}
	for _, n := range s.Notes {
		w.Wrap("Note: ", n)
	}
}

func (l *Line) write(w *page.Writer) {
	value := l.Text
	if value == "" {
		value = strings.TrimSpace(figure(l.Value) + " " + l.Unit)
	}
	if l.Origin != "" {
		value += "   [" + l.Origin + "]"
	}
	w.Wrap("", l.Name+": "+value)
	if l.Formula != "" {
		w.Wrap("      ", l.Formula)
	}
	if l.Inputs != "" {
		w.Wrap("      with ", l.Inputs)
	}
	if l.Source != "" {
		w.Wrap("      source: ", l.Source)
	}
}

// write lays the table out. Tables are made to keep within the page.
func (t *Table) write(w *page.Writer) {
	width := make([]int, len(t.Columns))
	for i, c := range t.Columns {
		width[i] = len([]rune(c))
		for _, r := range t.Rows {
			width[i] = max(width[i], len([]rune(r[i])))
		}
	}
	w.Line("%s", row(t.Columns, width))
	for _, r := range t.Rows {
		w.Line("%s", row(r, width))
	}
}

// row pads cells to their widths, numbers to the right.
func row(cells []string, width []int) string {
	var b strings.Builder
	for i, c := range cells {
		pad := strings.Repeat(" ", width[i]-len([]rune(c)))
		if i > 0 {
			b.WriteString("  ")
			b.WriteString(pad + c)
		} else {
			b.WriteString(c + pad)
		}
	}
	return strings.TrimRight(b.String(), " ")
}
