package cell

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// A Figure is a number as a cell has it.
type Figure struct {
	Value float64
	Unit  string // named in the cell, "" if none
	Notes Notes
}

// ParseFigure reads a number written for people: digits grouped by thousands, a
// unit behind it, a mark of doubt around it (">20", "~12", "9?"). It takes no
// words such as NaN or Inf, and no hexadecimal.
func ParseFigure(s string, decimal byte) (Figure, bool) {
	if plain(s) {
		x, err := strconv.ParseFloat(s, 64)
		if err == nil && (decimal == '.' || strings.IndexByte(s, '.') < 0) {
			return Figure{Value: x}, true
		}
	}
	var f Figure
	if t := strings.TrimLeft(s, "<>=~≈≤≥ "); t != s {
		f.Notes |= 1 << Approximate
		s = t
	}
	if t, ok := cutAbout(s); ok {
		f.Notes |= 1 << Approximate
		s = t
	}
	if t := strings.TrimRight(s, "?* "); t != s {
		f.Notes |= 1 << Approximate
		s = t
	}
	var buf [64]byte
	digits, rest, grouped, ok := ungroup(buf[:0], s, decimal)
	if !ok {
		return f, false
	}
	if grouped {
		f.Notes |= 1 << Thousands
	}
	f.Unit = strings.TrimSpace(rest)
	if f.Unit != "" {
		f.Notes |= 1 << UnitInCell
	}
	x, err := strconv.ParseFloat(string(digits), 64)
	f.Value = x
	return f, err == nil
}

// plain reports whether s has only the letters of a number in decimal notation.
func plain(s string) bool {
	if s == "" || len(s) > 60 {
		return false
	}
	for i := range len(s) {
		switch c := s[i]; {
		case c >= '0' && c <= '9', c == '.', c == '-', c == '+', c == 'e', c == 'E':
		default:
			return false
		}
	}
	return s[0] != 'e' && s[0] != 'E'
}

// cutAbout takes a leading word of doubt off s.
func cutAbout(s string) (string, bool) {
	for _, w := range [...]string{"approx.", "approx", "about", "circa", "ca.", "ca", "c."} {
		if len(s) > len(w) && strings.EqualFold(s[:len(w)], w) {
			return strings.TrimLeft(s[len(w):], " "), true
		}
	}
	return s, false
}

// ungroup appends the number at the start of s to buf with a dot for its decimal
// mark and without separators of thousands, and returns it with the rest of s.
// Groups must have three digits each but the first.
func ungroup(buf []byte, s string, decimal byte) (digits []byte, rest string, grouped, ok bool) {
	if strings.HasPrefix(s, "\u2212") { // minus sign
		s = "-" + s[len("\u2212"):]
	}
	if s != "" && (s[0] == '-' || s[0] == '+') {
		buf, s = append(buf, s[0]), s[1:]
	}
	run, fraction := 0, false // digits since the last mark
	for s != "" && len(buf) < cap(buf)-1 {
		c := s[0]
		n := 1
		switch {
		case c >= '0' && c <= '9':
			buf, run = append(buf, c), run+1
			s = s[1:]
			continue
		case c == decimal && !fraction:
			if grouped && run != 3 {
				return buf, s, grouped, false
			}
			buf, fraction = append(buf, '.'), true
			s = s[1:]
			continue
		}
		if n = separator(s, decimal); n == 0 || fraction || !threeDigits(s[n:]) {
			break
		}
		if run == 0 || run > 3 || grouped && run != 3 {
			return buf, s, grouped, false
		}
		grouped, run, s = true, 0, s[n:]
	}
	if grouped && !fraction && run != 3 {
		return buf, s, grouped, false
	}
	if s != "" && (s[0] == ',' || s[0] == '.' || s[0] == decimal) {
		return buf, s, grouped, false // a second mark: not one number
	}
	return buf, s, grouped, true
}

// separator returns the length of the separator of thousands at the start of s,
// 0 if there is none.
func separator(s string, decimal byte) int {
	r, n := utf8.DecodeRuneInString(s)
	switch r {
	case ',', '.':
		if byte(r) == decimal {
			return 0
		}
		return n
	case ' ', '\'', '\u2019', '\u00a0', '\u2009', '\u202f':
		return n
	}
	return 0
}

func threeDigits(s string) bool {
	if len(s) < 3 {
		return false
	}
	for i := range 3 {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return len(s) == 3 || s[3] < '0' || s[3] > '9'
}
