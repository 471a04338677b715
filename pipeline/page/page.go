// Package page lays out text for a terminal of 80 columns. Every report of the program is printed
// with it.
package page

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
	"unicode"
)

// Width is the width in characters of a terminal that everybody has.
const Width = 80

// WidestID is the number of characters of an id that a table has room for.
const WidestID = 13

// Marks are texts of which one stands near the beginning of every page that the program writes, in
// HTML or in Markdown. A page without one belongs to an owner.
var Marks = [...]string{`<meta name="generator" content="Plinth">`, "[//]: # (written by Plinth)"}

// A Writer writes text that keeps within Width. The first error stops it, and Flush returns that
// error.
type Writer struct{ b *bufio.Writer }

// New returns a Writer on w. The caller must call Flush at the end.
func New(w io.Writer) *Writer { return &Writer{bufio.NewWriter(w)} }

// Write writes p unchanged, for tables with a layout of their own.
func (w *Writer) Write(p []byte) (int, error) { return w.b.Write(p) }

// Line writes one formatted line unchanged.
func (w *Writer) Line(format string, args ...any) { fmt.Fprintf(w.b, format+"\n", args...) }

// Heading writes an empty line and a title with a rule below it.
func (w *Writer) Heading(title string) {
	title = Harmless(title)
	w.Line("\n%s\n%s", title, strings.Repeat("-", len([]rune(title))))
}

// Harmless returns s with every character replaced that a terminal or a browser would obey and not
// show: controls, ends of line, marks that turn the direction of the text around them. Joiners that
// bind the signs of a picture or a script stay.
func Harmless(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsPrint(r) || r == '\u200d' || r == '\u200c' {
			return r
		}
		return unicode.ReplacementChar
	}, s)
}

// Cut returns s on one line, harmless, and with at most width characters.
func Cut(s string, width int) string {
	out := []rune(Harmless(strings.TrimSpace(s)))
	if len(out) > width {
		out = out[:width]
		out[width-1] = '.'
	}
	return string(out)
}

// Table writes n rows in columns below a heading. Tabs separate the cells. row writes the cells of
// row i and the end of the line. under returns a text that stands on its own line below row i;
// under may be nil.
func (w *Writer) Table(heading string, n int, row func(to io.Writer, i int), under func(i int) string) {
	var b strings.Builder
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, heading)
	for i := range n {
		row(t, i)
	}
	t.Flush() // a Builder takes everything
	i := -1   // the heading
	for line := range strings.Lines(b.String()) {
		w.Line("%s", strings.TrimRight(line, " \n"))
		if i >= 0 && under != nil {
			if text := under(i); text != "" {
				w.Line("%s", text)
			}
		}
		i++
	}
}

// Wrap writes text, made harmless, in lines that keep within Width. prefix stands in front of the
// first line and as many blanks in front of the others. A word that is too long has a line of its
// own.
func (w *Writer) Wrap(prefix, text string) {
	blank := strings.Repeat(" ", len([]rune(prefix)))
	line, empty := prefix, true
	for _, word := range strings.Fields(text) {
		word = Harmless(word)
		if !empty && len([]rune(line))+1+len([]rune(word)) > Width {
			w.Line("%s", line)
			line, empty = blank, true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	w.Line("%s", line)
}

// Flush writes the buffered text and returns the first error.
func (w *Writer) Flush() error { return w.b.Flush() }
