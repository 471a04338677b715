package output

import (
	"bufio"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"
)

// A CSV writes rows as CSV (RFC 4180 with LF line ends): UTF-8, a header, dot
// decimals, an empty cell for a missing value.
//
// A text that a spreadsheet would run as a formula is neutralised by one single
// quote in front; see Neutral. Numbers are never touched, so -1.5 stays a
// number. Bytes that are not UTF-8 become the replacement character U+FFFD.
type CSV[R any] struct {
	t    *Table[R]
	w    *bufio.Writer
	line []byte
}

// NewCSV returns a CSV on w that has written its header. The caller closes w
// after Close.
func NewCSV[R any](w io.Writer, t *Table[R]) *CSV[R] {
	c := &CSV[R]{t: t, w: bufio.NewWriterSize(w, 64<<10)}
	for i := range t.Columns {
		if i > 0 {
			c.line = append(c.line, ',')
		}
		c.line = append(c.line, t.Columns[i].Name...)
	}
	c.w.Write(append(c.line, '\n')) // an error stays in c.w
	return c
}

// Write writes one row.
func (c *CSV[R]) Write(row *R) error {
	if err := c.t.check(row); err != nil {
		return err
	}
	b := c.line[:0]
	for i := range c.t.Columns {
		if i > 0 {
			b = append(b, ',')
		}
		switch col := &c.t.Columns[i]; {
		case col.Float != nil:
			b = appendRounded(b, *col.Float(row), col.digits())
		case col.Text != nil:
			b = appendText(b, *col.Text(row))
		case col.Int != nil:
			if v := *col.Int(row); v != NoInt {
				b = strconv.AppendInt(b, v, 10)
			}
		default:
			b = strconv.AppendBool(b, *col.Bool(row))
		}
	}
	c.line = append(b, '\n')
	_, err := c.w.Write(c.line)
	return err
}

// Close writes what is buffered.
func (c *CSV[R]) Close() error { return c.w.Flush() }

// Neutral returns s so that no spreadsheet takes it for a formula. A text that
// begins with =, +, -, @ (also in their full-width forms), tab, carriage return
// or line feed gets a single quote in front; so does one that begins with single
// quotes and then one of these, so that nothing is lost: RawText takes exactly
// one quote off again.
//
// The characters are those of the OWASP page "CSV Injection" (from memory).
func Neutral(s string) string {
	if isFormula(s) {
		return "'" + s
	}
	return s
}

// RawText undoes Neutral.
func RawText(s string) string {
	if strings.HasPrefix(s, "'") && isFormula(s) {
		return s[1:]
	}
	return s
}

// isFormula reports whether s, after any leading single quotes, begins like a
// formula.
func isFormula(s string) bool {
	for _, r := range s {
		switch r {
		case '\'':
		case '=', '+', '-', '@', '\t', '\r', '\n', '\uFF1D', '\uFF0B', '\uFF0D', '\uFF20':
			return true
		default:
			return false
		}
	}
	return false
}

// cleanText returns s as every format writes it: valid UTF-8.
func cleanText(s string) string {
	if utf8.ValidString(s) {
		return s
	}
	return strings.ToValidUTF8(s, "\uFFFD")
}

// isPlain reports whether s can stand in a cell as it is, as nearly every text can.
// It may say no to one that could.
func isPlain(s string) bool {
	if s == "" {
		return true
	}
	if !startsPlain[s[0]] || s[len(s)-1] == ' ' {
		return false
	}
	for i := 0; i < len(s); i++ {
		if c := s[i]; c >= 0x80 || c == ',' || c == '"' || c == '\n' || c == '\r' {
			return false
		}
	}
	return true
}

// startsPlain holds the characters that neither a formula nor a quoted cell begins
// with: ASCII letters, digits and some marks.
var startsPlain = func() (is [256]bool) {
	for c := '!'; c <= '~'; c++ {
		is[c] = !strings.ContainsRune("'=+-@,\"", c)
	}
	return is
}()

// appendText appends s as a cell, quoted if it must be.
func appendText(b []byte, s string) []byte {
	if isPlain(s) {
		return append(b, s...)
	}
	s = cleanText(s)
	quote := strings.ContainsAny(s, ",\"\n\r") || strings.HasPrefix(s, " ") || strings.HasSuffix(s, " ")
	if quote {
		b = append(b, '"')
	}
	if isFormula(s) {
		b = append(b, '\'')
	}
	if !quote {
		return append(b, s...)
	}
	for i := 0; i < len(s); i++ {
		if s[i] == '"' {
			b = append(b, '"')
		}
		b = append(b, s[i])
	}
	return append(b, '"')
}
