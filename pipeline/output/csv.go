package output

import (
	"io"
	"strconv"
	"strings"

	"plinth/pipeline/page"
)

// FormatCSV is the format of tables for people and spreadsheets.
const FormatCSV = "csv"

// csvFormat declares the format. Its description stands beside it as NAME.csv-metadata.json.
func csvFormat[R any]() format[R] {
	return format[R]{
		Format: Format{Name: FormatCSV, Audited: true},
		open:   func(f *File, t *Table[R], _ About) (rowWriter[R], error) { return NewCSV(f, t), nil },
		beside: []beside[R]{{ending: "csv-metadata.json", write: WriteCSVMetadata[R]}},
	}
}

// A CSV writes rows as CSV (RFC 4180 with LF line ends): UTF-8, one header line, dots as decimal
// marks, an empty cell for a missing value.
//
// A text that a spreadsheet would run as a formula gets a single quote in front (see isFormula).
// Numbers are left alone, so that -1.5 stays a number. Bytes that are not UTF-8, and characters
// that a terminal would obey, become U+FFFD (see page.Legible).
type CSV[R any] struct {
	t   *Table[R]
	w   io.Writer
	buf []byte // not yet written
	err error  // the first
}

const csvBuffer = 256 << 10

// NewCSV returns a CSV that writes to w and begins with the header. The caller closes w after
// Close.
func NewCSV[R any](w io.Writer, t *Table[R]) *CSV[R] {
	c := &CSV[R]{t: t, w: w, buf: make([]byte, 0, csvBuffer+csvBuffer/8)}
	for i := range t.Columns {
		if i > 0 {
			c.buf = append(c.buf, ',')
		}
		c.buf = append(c.buf, t.Columns[i].Name...)
	}
	c.buf = append(c.buf, '\n')
	return c
}

// Write writes one row.
func (c *CSV[R]) Write(row *R) error {
	if err := c.t.check(row); err != nil {
		return err
	}
	b := c.buf
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
	if c.buf = append(b, '\n'); len(c.buf) < csvBuffer {
		return nil
	}
	return c.Close()
}

// Close writes the buffered bytes.
func (c *CSV[R]) Close() error {
	if c.err == nil {
		_, c.err = c.w.Write(c.buf)
	}
	c.buf = c.buf[:0]
	return c.err
}

// RawText returns the text of a cell that was written so that no spreadsheet takes it for a formula.
// It takes off the single quote that was put in front.
func RawText(s string) string {
	if strings.HasPrefix(s, "'") && isFormula(s) {
		return s[1:]
	}
	return s
}

// isFormula reports whether s, after any leading single quotes, begins like a formula: with =, +, -,
// @ (also in their full-width forms), a tab, a carriage return or a line feed. Such a text gets a
// single quote in front. RawText takes exactly one quote off again, so that nothing is lost.
//
// The characters are those of the OWASP page "CSV Injection" (from memory).
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

// cleanText returns s as every format writes it.
func cleanText(s string) string { return page.Legible(s) }

// isPlain reports whether s can stand in a cell without quotes and without a change, as nearly
// every text can. It may return false for a text that could.
func isPlain(s string) bool {
	if s == "" {
		return true
	}
	if !startsPlain[s[0]] || s[len(s)-1] == ' ' {
		return false
	}
	i := 0
	for ; i+8 <= len(s); i += 8 {
		w := uint64(s[i]) | uint64(s[i+1])<<8 | uint64(s[i+2])<<16 | uint64(s[i+3])<<24 |
			uint64(s[i+4])<<32 | uint64(s[i+5])<<40 | uint64(s[i+6])<<48 | uint64(s[i+7])<<56
		comma, quote := w^','*ones, w^'"'*ones
		if (w|(w+ones)|(w-' '*ones)|((comma-ones)&^comma)|((quote-ones)&^quote))&(0x80*ones) != 0 {
			return false
		}
	}
	for ; i < len(s); i++ {
		if c := s[i]; c < ' ' || c >= 0x7f || c == ',' || c == '"' {
			return false
		}
	}
	return true
}

// ones holds a one in each of its eight bytes. In isPlain, w+ones sets the highest bit of a byte of
// 0x7f, the last control character. w-' '*ones sets the highest bit of a byte below a space. x-ones
// &^ x sets that of a byte of x that is zero. A borrow can set such a bit wrongly only if a lower
// byte has set its own rightly, so the answer holds.
const ones = 0x0101010101010101

// startsPlain holds the characters with which neither a formula nor a quoted cell begins: ASCII
// letters, digits and some marks.
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
	for {
		i := strings.IndexByte(s, '"')
		if i < 0 {
			return append(append(b, s...), '"')
		}
		b = append(append(b, s[:i+1]...), '"')
		s = s[i+1:]
	}
}
