package page

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Legible returns s as a table holds it. The replacement character takes the place of bytes that
// are not UTF-8, and of characters that a terminal or a reader would obey and not show: controls,
// and marks that turn the direction of the text around them (Bidi_Control, Unicode Standard Annex
// 9). Tabs and ends of line stay, since cells may hold them. A carriage return stays only before a
// line feed.
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

// obeyed reports whether r is a control that no cell needs, or a mark of direction.
func obeyed(r rune) bool {
	return r != '\t' && r != '\n' && (unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r))
}
