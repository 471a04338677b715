package source

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"

	"plinth/pipeline/inventory/fault"
	"plinth/pipeline/plan"
)

// bufferSize is the size of the reading buffer in bytes. Larger ones were no faster.
const bufferSize = 64 << 10

// LongestRecord is the most bytes a row may have where the input can seek.
const LongestRecord = 1 << 20

// A csvSource splits comma-separated text (RFC 4180) with encoding/csv.
//
// A quotation mark opened and never closed would swallow the rows behind it.
// Where the input can seek, the source reads at most LongestRecord behind it,
// rejects only the line it stands on and goes on with the next line.
type csvSource struct {
	Frame
	dialect
	in    io.Reader
	width int   // cells of the header
	at    []int // places of the picked columns

	csv    *csv.Reader
	left   int   // bytes that may be read for the record at hand
	place  int64 // of the input, where it is read next
	offset int64 // of the input where csv began
	lines  int   // lines of the input before it
	row    int   // lines from there to the end of the row read last
	peeked [][]string

	returns bool // a bare carriage return has ended a line
}

// openCSV reads the header.
func openCSV(file string, in io.Reader, inv *plan.Inventory) (*csvSource, error) {
	s := &csvSource{Frame: Frame{File: file}, in: in, left: LongestRecord}
	b := bufio.NewReaderSize(s, bufferSize)
	head, err := b.Peek(bufferSize)
	if len(head) == 0 {
		if err != nil && err != io.EOF {
			return nil, s.Broken(err)
		}
		return nil, &fault.FileError{File: file, Rule: "the file is empty",
			Remedy: "export the register again, with a header line"}
	}
	if e := foreign(head); e != nil {
		e.File = file
		return nil, e
	}
	if strings.HasPrefix(string(head), byteOrderMark) {
		n, _ := b.Discard(len(byteOrderMark))
		s.offset, head = int64(n), head[n:]
	}
	if e := s.understand(inv, head, err == io.EOF, &s.Frame); e != nil {
		e.File = file
		return nil, e
	}
	line, e := s.findHeader(inv, head, err == io.EOF)
	if e != nil {
		return nil, e
	}
	s.start(b)
	header, err := s.readHeader(line)
	if err != nil {
		return nil, s.headerError(err)
	}
	s.setHeader(header)
	s.passed(header)
	return s, s.checkHeader(header)
}

func (s *csvSource) Pick(at []int) { s.at = at }

// start begins splitting at the reader's place.
func (s *csvSource) start(b *bufio.Reader) {
	s.csv = csv.NewReader(b)
	s.csv.Comma = s.delimiter
	s.csv.ReuseRecord = true
	s.csv.FieldsPerRecord = s.width
	s.csv.TrimLeadingSpace = !unicode.IsSpace(s.delimiter)
	s.row = 0
}

// setHeader keeps a copy of the header's cells and expects rows of its width.
func (s *csvSource) setHeader(cells []string) {
	s.width = len(cells)
	s.csv.FieldsPerRecord = s.width
	for _, c := range cells {
		s.Header = append(s.Header, strings.TrimSpace(strings.Clone(s.decoded(c))))
	}
}

func (s *csvSource) headerError(err error) error {
	e := &fault.FileError{File: s.File, Line: 1, Rule: "the header cannot be read",
		Remedy: "the first line must name the columns", Err: err}
	if err == io.EOF {
		e.Rule, e.Err = "the file holds blank lines only", nil
	}
	return e
}

// checkHeader finds the header of a file that is split by something else.
func (s *csvSource) checkHeader(cells []string) error {
	all := strings.Join(cells, string(s.delimiter))
	if strings.Contains(all, "\r") {
		return &fault.FileError{File: s.File, Line: 1, Rule: "lines end in a bare carriage return",
			Remedy: "save the register with line feeds"}
	}
	if len(cells) == 1 {
		for _, d := range ";\t,|" {
			if d != s.delimiter && strings.ContainsRune(all, d) {
				return &fault.FileError{File: s.File, Line: 1, Key: "inventory.delimiter",
					Rule:   fmt.Sprintf("the header has one column if cells are split at %q", s.delimiter),
					Remedy: fmt.Sprintf("write delimiter = %q under [inventory]", string(d))}
			}
		}
	}
	return nil
}

// Next appends up to n rows.
func (s *csvSource) Next(to *Rows, n int) error {
	for end := to.N + n; to.N < end; {
		at := s.csv.InputOffset()
		s.left = LongestRecord
		cells, err := s.csv.Read()
		cut := s.cut()
		if err == nil && !cut {
			line, _ := s.csv.FieldPos(0)
			s.passed(cells)
			s.add(to, s.lines+line, cells)
			continue
		}
		var bad *csv.ParseError
		if err == nil {
			line, _ := s.csv.FieldPos(0)
			bad = &csv.ParseError{StartLine: line, Line: line, Err: csv.ErrFieldCount}
		} else if !errors.As(err, &bad) {
			return s.Broken(err)
		}
		if !cut && bad.Line == bad.StartLine && s.parted(to, bad, at) {
			s.row = bad.Line
			continue
		}
		to.N++
		to.Bad = append(to.Bad, s.reject(bad, cells, cut))
		s.row = bad.Line
		if err := s.resume(bad, cells, at, cut); err != nil {
			return err
		}
	}
	return nil
}

// add appends one row.
func (s *csvSource) add(to *Rows, line int, cells []string) {
	to.N++
	to.Lines = append(to.Lines, line)
	for _, i := range s.at {
		to.Cells = append(to.Cells, s.decoded(cells[i]))
	}
}

// Samples returns up to three cells of a column, for an error that ends the
// reading: it uses up rows.
func (s *csvSource) Samples(at int) []string {
	for len(s.peeked) < 50 {
		cells, err := s.csv.Read()
		if err == io.EOF {
			break
		}
		if err == nil {
			s.peeked = append(s.peeked, slices.Clone(cells))
		}
	}
	var out []string
	for _, cells := range s.peeked {
		out = sample(out, s.decoded(cells[at]))
	}
	return out
}

// sample adds a cell to up to three that are not empty.
func sample(to []string, cell string) []string {
	if cell = strings.TrimSpace(cell); cell != "" && len(to) < 3 {
		to = append(to, fault.Clip(cell))
	}
	return to
}
