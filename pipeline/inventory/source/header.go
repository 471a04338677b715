package source

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"unicode"

	"plinth/pipeline/inventory/fault"
	"plinth/pipeline/plan"
)

// headRows is how many rows are looked at for the header. People write a title, a date and
// a few remarks above a table, not pages (judgement).
const headRows = 30

// headerAt returns the index of the header among the first rows of a table. The row that
// holds the most columns of the plan is it, the first of several; if none holds any, the
// first row that is full of words: it fills two thirds of the cells that the fullest row
// fills, at least two, and none of them is a number (judgement). If there is none either,
// it is the first row.
func headerAt(rows [][]string, columns map[string]string) int {
	names := make(map[string]bool)
	for _, name := range columns {
		names[strings.TrimSpace(name)] = true
	}
	best, most, widest := 0, 0, 0
	for i, row := range rows {
		n := 0
		for name := range maps.Keys(names) {
			if slices.ContainsFunc(row, func(c string) bool { return strings.TrimSpace(c) == name }) {
				n++
			}
		}
		if n > most {
			best, most = i, n
		}
		filled, _ := worded(row)
		widest = max(widest, filled)
	}
	if most > 0 {
		return best
	}
	for i, row := range rows {
		if filled, words := worded(row); words && filled >= 2 && 3*filled >= 2*widest {
			return i
		}
	}
	return 0
}

// worded counts the cells of a row that are filled, and reports whether all of them are
// words: they have a letter and do not begin as a number does.
func worded(row []string) (filled int, words bool) {
	words = true
	for _, c := range row {
		if c = strings.TrimSpace(c); c == "" {
			continue
		}
		filled++
		first := []rune(c)[0]
		words = words && !unicode.IsDigit(first) && first != '-' && strings.ContainsFunc(c, unicode.IsLetter)
	}
	return filled, words
}

// headerLine returns the line of the file that is the header, which is one of those that the
// first rows stand on: the one that the plan names, or the one that is found.
func (f *Frame) headerLine(inv *plan.Inventory, rows [][]string, lines []int) (int, error) {
	if len(rows) == 0 {
		return 0, &fault.FileError{File: f.File, Rule: "there is no row with anything in it",
			Remedy: "export the register again, with a header"}
	}
	at := headerAt(rows, inv.Columns)
	if inv.HeaderRow > 0 {
		if at = slices.Index(lines, inv.HeaderRow); at < 0 {
			return 0, &fault.FileError{File: f.File, Key: "inventory.header_row",
				Value:  fmt.Sprint(inv.HeaderRow),
				Rule:   fmt.Sprintf("no row with anything in it among the first %d of the register", headRows),
				Remedy: "write the number of the row that names the columns, the first row of the file being 1"}
		}
	}
	if above := lines[at] - 1; at > 0 {
		f.Note("the header stands on line %d; above it %d %s, such as %q", lines[at], above,
			plural(above, "line was passed over", "lines were passed over"), fault.Clip(told(rows[0])))
	}
	return lines[at], nil
}

// told returns the first filled cell of a row.
func told(row []string) string {
	for _, c := range row {
		if c = strings.TrimSpace(c); c != "" {
			return c
		}
	}
	return ""
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// findHeader returns the line that the header stands on, by the head of the file. all says
// that head is the whole file.
func (s *csvSource) findHeader(inv *plan.Inventory, head []byte, all bool) (int, error) {
	if !all {
		head = head[:bytes.LastIndexByte(head, '\n')+1]
	}
	r := csv.NewReader(bytes.NewReader(head))
	r.Comma, r.FieldsPerRecord, r.LazyQuotes = s.delimiter, -1, true
	var rows [][]string
	var lines []int
	for len(rows) < headRows {
		cells, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil || told(cells) == "" {
			continue
		}
		for i, c := range cells {
			cells[i] = s.decoded(c)
		}
		line, _ := r.FieldPos(0)
		rows, lines = append(rows, cells), append(lines, line)
	}
	if len(rows) == 0 {
		return 0, nil // reading the header says what is wrong
	}
	return s.headerLine(inv, rows, lines)
}

// readHeader reads up to the header on a line, and returns its cells.
func (s *csvSource) readHeader(line int) ([]string, error) {
	s.csv.FieldsPerRecord = -1
	for {
		cells, err := s.csv.Read()
		var bad *csv.ParseError
		switch {
		case errors.As(err, &bad) && bad.StartLine < line: // among the titles
			continue
		case err != nil:
			return nil, err
		}
		if at, _ := s.csv.FieldPos(0); at >= line {
			return cells, nil
		}
	}
}
