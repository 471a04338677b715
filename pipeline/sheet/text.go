package sheet

import (
	"fmt"
	"io"
	"strings"

	"plinth/pipeline/page"
)

// WriteText writes the sheet as text of 80 columns.
func (s *Sheet) WriteText(to io.Writer) error {
	w := page.New(to)
	w.Wrap("", s.Title)
	for i := range s.Sections {
		s.Sections[i].write(w)
	}
	w.Heading(cautionHead)
	w.Wrap("", s.Caution)
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
	for i := range s.Tables {
		s.Tables[i].write(w)
	}
	for _, n := range s.Notes {
		w.Wrap(noteHead+": ", n)
	}
}

func (l *Line) write(w *page.Writer) {
	value := l.value()
	if l.Origin != "" {
		value += "   [" + l.Origin + "]"
	}
	w.Wrap("", l.Name+": "+value)
	if l.Formula != "" {
		w.Wrap("      ", l.Formula)
	}
	if l.Inputs != "" {
		w.Wrap("      "+inputsHead+" ", l.Inputs)
	}
	if l.Source != "" {
		w.Wrap("      "+sourceHead+": ", l.Source)
	}
}

// write writes the table. Tables are made to fit the width of the page.
func (t *Table) write(w *page.Writer) {
	width := make([]int, len(t.Columns))
	for i, c := range t.Columns {
		width[i] = len([]rune(c))
		for _, r := range t.Rows {
			width[i] = max(width[i], len([]rune(r[i])))
		}
	}
	w.Line("%s", page.Harmless(padded(t.Columns, width)))
	for _, r := range t.Rows {
		w.Line("%s", page.Harmless(padded(r, width)))
	}
}

// padded pads cells to their widths, with numbers on the right.
func padded(cells []string, width []int) string {
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
