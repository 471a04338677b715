// Package page lays out text for a terminal of 80 columns: what every report of
// the program is printed with.
package page

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
	"unicode"
)

// Width is the width of a terminal that everybody has, in characters.
const Width = 80

// WidestID is as much of an id as a table has room for.
const WidestID = 13

// WidestCurrency is as much of the name of a currency as the texts have room for.
const WidestCurrency = 10

// Marks stand near the beginning of every page the program writes, in HTML and in
// Markdown: a page without one is an owner's.
var Marks = [...]string{`<meta name="generator" content="Plinth">`, "[//]: # (written by Plinth)"}

// A Writer writes text that keeps within Width. The first error stops it and is
// returned by Flush.
type Writer struct{ b *bufio.Writer }

// New returns a Writer on w. Flush it when done.
func New(w io.Writer) *Writer { return &Writer{bufio.NewWriter(w)} }

// Write writes p as it is, for tables that lay themselves out.
func (w *Writer) Write(p []byte) (int, error) { return w.b.Write(p) }

// Line writes one formatted line as it is.
func (w *Writer) Line(format string, args ...any) { fmt.Fprintf(w.b, format+"\n", args...) }

// Heading writes a title with a rule under it, after an empty line.
func (w *Writer) Heading(title string) {
	title = Harmless(title)
	w.Line("\n%s\n%s", title, strings.Repeat("-", len([]rune(title))))
}

// Harmless returns s with what a terminal or a browser would obey rather than show
// replaced: controls, ends of line, marks that turn the direction of the text around
// them. The joiners that bind signs of a picture or a script together stay.
func Harmless(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsPrint(r) || r == '\u200d' || r == '\u200c' {
			return r
		}
		return unicode.ReplacementChar
	}, s)
}

// Cut returns s on one line, harmless and of at most width characters.
func Cut(s string, width int) string {
	out := []rune(Harmless(strings.TrimSpace(s)))
	if len(out) > width {
		out = out[:width]
		out[width-1] = '.'
	}
	return string(out)
}

// Table writes n rows in columns under a heading. Cells are parted by tabs; row writes
// those of row i and the end of the line. What under returns of a row stands below it,
// on a line of its own; under may be nil.
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

// Wrap writes text, made harmless, in lines that keep within Width, behind prefix,
// which is blank from the second line on. A longer word has a line of its own.
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

// Flush writes what is left and returns the first error.
func (w *Writer) Flush() error { return w.b.Flush() }
