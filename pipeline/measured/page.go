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
	p.f(headWords, oneAim)
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

// f adds words, with Q as a back quote.
func (p *page) f(format string, args ...any) {
	fmt.Fprintf(p, strings.ReplaceAll(format, "Q", "`"), args...)
}

// table begins a table of columns.
func (p *page) table(columns ...string) {
	p.f("| %s |\n|%s\n", strings.Join(columns, " | "), strings.Repeat(" --- |", len(columns)))
}

// row adds a row to a table. A bar in a cell would end the cell.
func (p *page) row(cells ...string) {
	for i, c := range cells {
		cells[i] = strings.ReplaceAll(c, "|", "/")
	}
	p.f("| %s |\n", strings.Join(cells, " | "))
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

// figures returns numbers with commas between.
func figures(list []float64) string {
	var out []string
	for _, v := range list {
		out = append(out, figure(v))
	}
	return strings.Join(out, ", ")
}

// ratio returns a ratio with two decimals, three digits below a tenth.
func ratio(v float64) string {
	if v < 0.1 {
		return figure(v)
	}
	return scatter(v)
}

// scatter returns a number with two decimals, a dash for none.
func scatter(v float64) string {
	if math.IsNaN(v) {
		return "-"
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

// storeys returns a number of storeys behind a mark, nothing where it is not known.
func storeys(mark string, n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return mark + "1 storey"
	}
	return fmt.Sprintf("%s%d storeys", mark, n)
}

// or returns s, or other where s is empty.
func or(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// strong marks text that the reader shall not pass over.
func strong(s string) string { return "**" + s + "**" }
