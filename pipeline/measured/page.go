package measured

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// Write writes docs/measured.md.
func (c *Comparison) Write(dst io.Writer) error {
	p := &page{}
	p.head(c)
	p.summary(c)
	p.buildings(c.buildings)
	p.damage(c)
	p.elements(c)
	p.codes(c)
	p.laws(c)
	p.unused(c)
	_, err := io.WriteString(dst, strings.TrimRight(p.String(), "\n")+"\n")
	return err
}

// A page is a text in the making.
type page struct{ strings.Builder }

func (p *page) f(format string, args ...any) { fmt.Fprintf(p, format, args...) }

// table begins a table of columns.
func (p *page) table(columns ...string) {
	p.f("| %s |\n|%s\n", strings.Join(columns, " | "), strings.Repeat(" --- |", len(columns)))
}

// row adds a row to a table. A cell's bars would end it.
func (p *page) row(cells ...string) {
	for i, c := range cells {
		cells[i] = strings.ReplaceAll(c, "|", "/")
	}
	p.f("| %s |\n", strings.Join(cells, " | "))
}

func (p *page) head(c *Comparison) {
	p.f(`# Measured: the program beside buildings, damage and tests

Written by %[1]smake measured%[1]s from [testdata/measured](../testdata/measured/README.md); do not edit.

**This page shows where the program is off.** Nothing in the program is tuned to it: no number of the folder enters a fit, and a
test holds that only the command that writes this page reads the folder. Screening is not an evaluation; local codes and a
licensed engineer decide, and a building that is not flagged is not thereby safe.

A ratio is predicted over measured: above 1 the program is the larger. Only values count that somebody read in a source or
computed from data that were read; values from memory are shown apart and enter no mean. Aims were set beforehand; a value outside %[2]s has its
reason beside it, and "not known" where nobody knows. Means are geometric, scatter is the standard deviation of ln ratio; it is
reported, and has no aim. The cases are few and chosen by what could be read, not at random: a mean that meets its aim proves little, one that misses it shows a fault.

`, "`", oneAim)
}

// figure returns a number to three significant digits, a dash for none.
func figure(v float64) string {
	if math.IsNaN(v) {
		return "-"
	}
	digits := 2 - int(math.Floor(math.Log10(math.Abs(v))))
	if v == 0 || digits < 0 {
		digits = 0
	}
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// ratio returns a ratio with two decimals, three digits below a tenth.
func ratio(v float64) string {
	switch {
	case math.IsNaN(v):
		return "-"
	case v < 0.1:
		return figure(v)
	}
	return strconv.FormatFloat(v, 'f', 2, 64)
}

// thousands returns a whole number with commas.
func thousands(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// scatter returns a standard deviation with two decimals.
func scatter(v float64) string {
	if math.IsNaN(v) {
		return "-"
	}
	return strconv.FormatFloat(v, 'f', 2, 64)
}

// percent returns a share in per cent with a decimal, small ones with two.
func percent(v float64) string {
	switch v *= 100; {
	case v == 0:
		return "0"
	case v < 0.01:
		return "< 0.01"
	case v < 1:
		return strconv.FormatFloat(v, 'f', 2, 64)
	}
	return strconv.FormatFloat(v, 'f', 1, 64)
}

// or returns s, or other where s is empty.
func or(s, other string) string {
	if s == "" {
		return other
	}
	return s
}
