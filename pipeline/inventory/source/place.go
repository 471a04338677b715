package source

import (
	"bufio"
	"io"
	"strings"
)

// A Place is one between two rows of a register.
type Place struct {
	Offset int64 // bytes of the file before it
	Lines  int   // lines of the file before it
}

// A placed source can say where it is and go on from elsewhere.
type placed interface {
	here() Place
	goTo(Place) error
}

// PlaceOf returns the place of the rows that a source reads next. ok is false in formats
// that are read from the start only: those other than CSV, and CSV from an input that
// cannot seek.
func PlaceOf(s Source) (p Place, ok bool) {
	at, ok := s.(placed)
	if csv, is := s.(*csvSource); is && csv.seeker() == nil || !ok {
		return Place{}, false
	}
	return at.here(), true
}

// GoTo makes a source go on from a place in the same file. It panics in a format without
// places.
func GoTo(s Source, p Place) error { return s.(placed).goTo(p) }

// here returns where the source stands.
func (s *csvSource) here() Place {
	return Place{Offset: s.offset + s.csv.InputOffset(), Lines: s.lines + s.row}
}

// goTo goes on splitting at a place.
func (s *csvSource) goTo(p Place) error {
	if _, err := s.seeker().Seek(p.Offset, io.SeekStart); err != nil {
		return s.Broken(err)
	}
	s.offset, s.lines, s.place, s.left = p.Offset, p.Lines, p.Offset, LongestRecord
	s.start(bufio.NewReaderSize(s, bufferSize))
	return nil
}

// passed notes on which line the row ends whose cells were read. encoding/csv tells
// where a cell begins.
func (s *csvSource) passed(cells []string) {
	last := len(cells) - 1
	line, _ := s.csv.FieldPos(last)
	s.row = line + strings.Count(cells[last], "\n")
}
