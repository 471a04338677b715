package source

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
)

// parted reads again a line that could not be split, if bare carriage returns part it into
// rows of which one at least is whole: some program ended a row by one. It reports whether
// that is so; every part then is a row, read or rejected. It needs an input that can be read
// at a place.
func (s *csvSource) parted(to *Rows, bad *csv.ParseError, at int64) bool {
	parts := bytes.Split(s.lineAt(at), []byte{'\r'})
	if len(parts) < 2 {
		return false
	}
	rows, whole := make([][]string, len(parts)), 0
	errs := make([]error, len(parts))
	for i, part := range parts {
		r := csv.NewReader(bytes.NewReader(part))
		r.Comma, r.FieldsPerRecord, r.TrimLeadingSpace = s.delimiter, s.width, s.csv.TrimLeadingSpace
		if rows[i], errs[i] = r.Read(); errs[i] == nil {
			whole++
		}
	}
	if whole == 0 {
		return false
	}
	line := s.lines + bad.StartLine
	if !s.returns {
		s.returns = true
		s.Note("line %d has a bare carriage return between rows, which was taken for the end of a line", line)
	}
	for i, cells := range rows {
		var wrong *csv.ParseError
		switch {
		case errs[i] == io.EOF: // nothing but the return
		case errors.As(errs[i], &wrong):
			wrong.StartLine, wrong.Line = bad.StartLine, bad.StartLine
			to.N++
			to.Bad = append(to.Bad, s.reject(wrong, cells, false))
		default:
			s.add(to, line, cells)
		}
	}
	return true
}

// lineAt returns the line that the record read last stands on, from where it was looked for;
// nil if it runs over several lines or cannot be read again.
func (s *csvSource) lineAt(at int64) []byte {
	from, ok := s.in.(io.ReaderAt)
	n := s.csv.InputOffset() - at
	if !ok || n <= 0 || n > LongestRecord {
		return nil
	}
	text := make([]byte, n)
	if _, err := from.ReadAt(text, s.offset+at); err != nil && err != io.EOF {
		return nil
	}
	text = bytes.Trim(text, "\r\n")
	if bytes.IndexByte(text, '\n') >= 0 {
		return nil
	}
	return text
}
