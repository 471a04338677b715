package page

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Legible returns s as a table holds it: UTF-8, with the replacement character in place of
// what is none, and of what a terminal or a reader would obey rather than show: controls,
// and marks that turn the direction of the text around them (Bidi_Control, Unicode Standard
// Annex 9). Tabs and ends of line stay, since cells may have them; a carriage return does so
// before a line feed only.
func Legible(s string) string {
	if utf8.ValidString(s) && strings.IndexFunc(s, obeyed) < 0 {
		return s
	}
	var b strings.Builder
	for i, r := range s {
		if obeyed(r) && !strings.HasPrefix(s[i:], "\r\n") {
			r = unicode.ReplacementChar
		}
		b.WriteRune(r)
	}
	return b.String()
}

// obeyed reports whether r is a control that no cell has need of, or a mark of direction.
func obeyed(r rune) bool {
	return r != '\t' && r != '\n' && (unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r))
}
