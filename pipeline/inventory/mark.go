package inventory

import (
	"bufio"
	"io"
	"strings"
)

// A Mark is a place between two rows of a register, from which another reader can
// go on.
type Mark struct {
	Offset int64 // bytes of the file before it
	Lines  int   // lines of the file before it
}

// A marker is a source that can say where it is and go on from elsewhere.
type marker interface {
	mark() Mark
	goTo(Mark) error
}

// Mark returns the place of the rows that Next reads next. ok is false in formats
// that are read from the start only: those other than CSV, and CSV from an input
// that cannot seek.
func (r *Reader) Mark() (m Mark, ok bool) {
	source, ok := r.source.(marker)
	if csv, is := r.source.(*csvSource); is && csv.seeker() == nil || !ok {
		return Mark{}, false
	}
	return source.mark(), true
}

// GoTo makes Next go on from a place that Mark returned for the same file. It
// panics in a format without marks.
func (r *Reader) GoTo(m Mark) error {
	r.end = nil
	return r.source.(marker).goTo(m)
}

// mark returns where the source stands.
func (s *csvSource) mark() Mark {
	return Mark{Offset: s.offset + s.csv.InputOffset(), Lines: s.lines + s.row}
}

// goTo goes on splitting at a mark.
func (s *csvSource) goTo(m Mark) error {
	if _, err := s.seeker().Seek(m.Offset, io.SeekStart); err != nil {
		return s.broken(err)
	}
	s.offset, s.lines, s.place, s.left = m.Offset, m.Lines, m.Offset, longestRecord
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
