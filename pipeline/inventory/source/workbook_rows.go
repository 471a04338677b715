package source

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"plinth/pipeline/inventory/fault"
	"plinth/pipeline/plan"
)

// readHead reads the first rows and finds the header among them.
func (s *bookSource) readHead(inv *plan.Inventory) error {
	for len(s.head) < headRows {
		cells, err := s.next()
		if err == io.EOF {
			break
		}
		if err != nil {
			return err
		}
		s.head, s.lines = append(s.head, cells), append(s.lines, s.line)
	}
	line, err := s.headerLine(inv, s.head, s.lines)
	if err != nil {
		return err
	}
	at := slices.Index(s.lines, line)
	header := s.head[at]
	for len(header) > 0 && strings.TrimSpace(header[len(header)-1]) == "" {
		header = header[:len(header)-1]
	}
	for _, c := range header {
		s.Header = append(s.Header, strings.TrimSpace(c))
	}
	s.Note("sheet %s of the workbook was read", fault.Shown(s.sheet))
	s.head, s.lines = s.head[at+1:], s.lines[at+1:]
	return nil
}

// next returns the cells of the next row that has anything in it.
func (s *bookSource) next() ([]string, error) {
	for s.rows.Next() {
		if s.line++; s.line%1024 == 0 && s.ctx.Err() != nil {
			return nil, s.ctx.Err()
		}
		cells, err := s.rows.Columns()
		if err == nil {
			err = s.marked(cells)
		}
		if err != nil {
			return nil, s.damaged(fmt.Sprintf("row %d of the sheet cannot be read", s.line), err)
		}
		if told(cells) != "" {
			return cells, nil
		}
	}
	if err := s.rows.Error(); err != nil {
		return nil, s.damaged("the sheet cannot be read", err)
	}
	return nil, io.EOF
}

// Next appends up to n rows.
func (s *bookSource) Next(to *Rows, n int) (err error) {
	defer s.guarded(&err)
	for end := to.N + n; to.N < end; {
		cells, line, err := s.row()
		if err != nil {
			if s.held != nil && err == io.EOF {
				s.Note("line %d, the last, was taken for a row of totals and left out: it begins with %q", s.heldAt,
					fault.Clip(told(s.held)))
				s.held = nil
			}
			return err
		}
		s.add(to, line, cells)
	}
	return nil
}

// row returns the next row and its line. It holds back what looks like a row of totals until
// another row shows that it is none.
func (s *bookSource) row() (cells []string, line int, err error) {
	take := func() ([]string, int, error) {
		if len(s.head) > 0 {
			cells, line := s.head[0], s.lines[0]
			s.head, s.lines = s.head[1:], s.lines[1:]
			return cells, line, nil
		}
		cells, err := s.next()
		return cells, s.line, err
	}
	if cells, line, err = take(); err != nil {
		return nil, 0, err
	}
	if s.held != nil {
		cells, line, s.held, s.heldAt = s.held, s.heldAt, cells, line
		if !s.totals(s.held) {
			s.head, s.lines, s.held = slices.Insert(s.head, 0, s.held), slices.Insert(s.lines, 0, s.heldAt), nil
		}
		return cells, line, nil
	}
	if s.totals(cells) {
		s.held, s.heldAt = cells, line
		return s.row()
	}
	return cells, line, nil
}

// totalWords begin a row of totals (common practice, no source).
var totalWords = []string{"total", "totals", "grand total", "sum", "summe", "gesamt", "gesamtsumme", "insgesamt",
	"somme", "totale", "totaal", "suma", "subtotal", "count", "anzahl", "合計", "计", "总计", "合计"}

// totals reports whether a row looks like one of totals: the first word in it is one for a
// total, and half of its cells or more are empty.
func (s *bookSource) totals(cells []string) bool {
	filled, _ := worded(cells)
	word, _, _ := strings.Cut(strings.ToLower(told(cells)), ":")
	return 2*filled <= len(s.Header) && slices.Contains(totalWords, strings.TrimSpace(word))
}

// add appends a row. One with something behind the last column of the header is bad.
func (s *bookSource) add(to *Rows, line int, cells []string) {
	to.N++
	if len(cells) > len(s.Header) && told(cells[len(s.Header):]) != "" {
		to.Bad = append(to.Bad, Bad{Line: line, Fault: Ragged, Raw: fault.Clip(cells[0]),
			Detail: fmt.Sprintf("%d cells, the header has %d", len(cells), len(s.Header))})
		return
	}
	to.Lines = append(to.Lines, line)
	for _, i := range s.at {
		if i < len(cells) {
			to.Cells = append(to.Cells, cells[i])
		} else {
			to.Cells = append(to.Cells, "")
		}
	}
}

// Samples returns up to three cells of a column from the rows read ahead.
func (s *bookSource) Samples(at int) []string {
	var out []string
	for _, cells := range s.head {
		if at < len(cells) {
			out = sample(out, cells[at])
		}
	}
	return out
}
