package source

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"plinth/pipeline/inventory/fault"
)

// Read reads from the input for encoding/csv. To it the input ends where a record
// has become too long; resume then takes it back.
func (s *csvSource) Read(p []byte) (int, error) {
	if s.seeker() == nil {
		return s.in.Read(p)
	}
	if s.left <= 0 {
		return 0, io.EOF
	}
	n, err := s.in.Read(p[:min(len(p), s.left)])
	s.left -= n
	s.place += int64(n)
	return n, err
}

// cut reports whether the record read last ends where its bytes ended and not where
// a line does: it is too long, and what was read of it means nothing.
func (s *csvSource) cut() bool { return s.left <= 0 && s.offset+s.csv.InputOffset() == s.place }

// reject describes a row that could not be split.
func (s *csvSource) reject(bad *csv.ParseError, cells []string, cut bool) Bad {
	r := Bad{Line: s.lines + bad.StartLine, Fault: BrokenQuote}
	if cut && bad.Line == bad.StartLine {
		r.Fault, r.Detail = Ragged, fmt.Sprintf("a line of more than %d MB", LongestRecord>>20)
		return r
	}
	if errors.Is(bad.Err, csv.ErrFieldCount) {
		r.Fault = Ragged
		r.Detail = fmt.Sprintf("%d cells, the header has %d", len(cells), s.width)
		if len(cells) > 0 {
			r.Raw = fault.Clip(s.decoded(cells[0]))
		}
		return r
	}
	r.Detail = fmt.Sprintf("line %d, byte %d", s.lines+bad.Line, bad.Column)
	if s.seeker() == nil && bad.Line > bad.StartLine {
		r.Detail += fmt.Sprintf("; %d lines were taken for one cell and are lost", bad.Line-bad.StartLine+1)
	}
	return r
}

// resume goes back to the line behind the one a bad record began on, if the
// record ran over several, since its quotation mark was a stray one, or was cut.
func (s *csvSource) resume(bad *csv.ParseError, cells []string, at int64, cut bool) error {
	seek := s.seeker()
	if seek == nil || bad.Line == bad.StartLine && !cut && !spansLines(cells) {
		return nil
	}
	start := s.offset + at
	s.left, s.place = math.MaxInt, start
	if _, err := seek.Seek(start, io.SeekStart); err != nil {
		return s.Broken(err)
	}
	b := bufio.NewReaderSize(s, bufferSize)
	for blank := true; blank; { // encoding/csv skips blank lines before a record
		n, content, err := skipLine(b)
		if err != nil && err != io.EOF {
			return s.Broken(err)
		}
		start += n
		blank = !content && err == nil
	}
	s.offset, s.lines = start, s.lines+bad.StartLine
	s.start(b)
	return nil
}

func (s *csvSource) seeker() io.Seeker {
	seek, _ := s.in.(io.Seeker)
	return seek
}

func spansLines(cells []string) bool {
	for _, c := range cells {
		if strings.Contains(c, "\n") {
			return true
		}
	}
	return false
}

// skipLine reads one line and returns its length and whether it has anything on
// it.
func skipLine(b *bufio.Reader) (n int64, content bool, err error) {
	for {
		part, err := b.ReadSlice('\n')
		n += int64(len(part))
		content = content || strings.Trim(string(part), "\r\n") != ""
		if err != bufio.ErrBufferFull {
			return n, content, err
		}
	}
}
