package cell

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// A Storeys holds the counts that a notation of storeys gives.
type Storeys struct {
	Above int // above ground, 0 if not said
	Below int // below ground, -1 if not said
	// Said and not counted: half a storey, a roof storey, a mezzanine.
	half, roof, mezzanine bool
	Span                  bool // a range, of which the larger end is taken
}

// ParseStoreys reads a count of storeys as people write it, by a small grammar over
// the table of words:
//
//	count = part { joint part }
//	part  = [word] [number] [word]
//	joint = + / , & ; ( ) or nothing where a part is whole; - or "to" for a range
//
// A word of ground level makes n others n + 1 storeys: G+4, R+4, PB+4 and EG+4 are
// five. Without one the number counts all above ground, as North America does: 4F,
// "4 storeys" and B2/4F are four. A number before a word of basements is how many
// (2 UG), one behind it the lowest (B2): two both. Of a range of at most two
// storeys the larger end is taken. A bare sum (5+2), a bare fraction (3/4), a count of
// upper storeys without a ground word and any other word are not read.
func ParseStoreys(s string) (count Storeys, ok bool) {
	tidy := tidyStoreys(s)
	if n := slices.Index(romans[:], tidy); n > 0 {
		return Storeys{Above: n, Below: -1}, true
	}
	p := storeyParser{rest: tidy}
	for p.rest != "" {
		if !p.step() {
			return count, false
		}
	}
	p.flush()
	if p.n == 0 || p.failed || p.open {
		return count, false
	}
	return p.count()
}

// romans are the Roman numerals of two letters and more, by their value. One letter alone may be a
// mark of something else.
var romans = [...]string{2: "ii", "iii", "iv", 6: "vi", "vii", "viii", "ix", 11: "xi", "xii", "xiii", "xiv", "xv",
	"xvi", "xvii", "xviii", "xix", "xx"}

// tidyStoreys brings letters to lower case and one width, halves to ".5".
func tidyStoreys(s string) string {
	s = strings.ReplaceAll(s, " ½", ".5")
	s = strings.ReplaceAll(s, "½", ".5")
	s = strings.ReplaceAll(s, " 1/2", ".5")
	return strings.ToLower(norm.NFKC.String(strings.TrimSpace(s)))
}

// A storeyPart is one part of a count.
type storeyPart struct {
	class    storeyClass
	n        int
	numbered bool
	label    bool // the number is behind the word
	half     bool
	span     bool // joined to the part before by a mark of a range
}

// A storeyParser reads parts from left to right.
type storeyParser struct {
	rest   string
	parts  [8]storeyPart
	n      int
	cur    storeyPart
	open   bool // a joint waits for its part
	span   bool // and is a mark of a range
	failed bool
}

// step reads one sign, number or word.
func (p *storeyParser) step() bool {
	r, size := utf8.DecodeRuneInString(p.rest)
	switch {
	case unicode.IsSpace(r) || r == '.' && (len(p.rest) < 2 || p.rest[1] < '0' || p.rest[1] > '9'):
		p.rest = p.rest[size:]
		return true
	case r >= '0' && r <= '9':
		return p.number()
	case r == '(' || r == ')':
		p.flush()
		p.rest = p.rest[size:]
		return true
	}
	if w := storeyWordAt(p.rest); w != nil {
		p.rest = p.rest[len(w.word):]
		return p.word(w)
	}
	p.rest = p.rest[size:]
	switch r {
	case '+', '/', ',', '&', ';':
		return p.joint(false)
	case '-', '\u2013', '\u2014':
		return p.joint(true)
	}
	return false
}

// joint ends a part and waits for the next.
func (p *storeyParser) joint(span bool) bool {
	p.flush()
	if p.n == 0 || p.open && !p.span {
		return false
	}
	p.open, p.span = true, span
	return true
}

// number reads a whole number, or one and a half.
func (p *storeyParser) number() bool {
	i, n := 0, 0
	for ; i < len(p.rest) && p.rest[i] >= '0' && p.rest[i] <= '9'; i++ {
		if n = 10*n + int(p.rest[i]-'0'); n > 200 {
			return false
		}
	}
	p.rest = p.rest[i:]
	half := false
	if len(p.rest) > 1 && (p.rest[0] == '.' || p.rest[0] == ',') && p.rest[1] >= '0' && p.rest[1] <= '9' {
		if p.rest[1] != '5' || len(p.rest) > 2 && p.rest[2] >= '0' && p.rest[2] <= '9' {
			return false
		}
		half, p.rest = true, p.rest[2:]
	}
	p.take(n, half)
	return true
}

// take gives the current part its number, or begins another part with it.
func (p *storeyParser) take(n int, half bool) {
	if p.cur.numbered {
		p.flush()
	}
	p.cur.n, p.cur.half, p.cur.numbered = n, half, true
	p.cur.label = p.cur.class != noStoreyWord
}

// word takes a word into the current part, or begins another with it.
func (p *storeyParser) word(w *storeyWord) bool {
	switch w.class {
	case aNumber:
		p.take(w.number, false)
		p.rest = strings.TrimPrefix(p.rest, "-") // two-storey
		return true
	case aJoint, aSpan:
		return p.joint(w.class == aSpan)
	case aStorey:
		if p.cur.class == noStoreyWord {
			p.cur.class = aStorey
		}
		return true
	}
	switch {
	case p.cur.class == noStoreyWord:
	case p.cur.class == aStorey && p.cur.numbered && w.behind:
	default:
		p.flush()
	}
	p.cur.class = w.class
	return true
}

// flush ends the current part.
func (p *storeyParser) flush() {
	if p.cur == (storeyPart{}) {
		return
	}
	if p.n == len(p.parts) {
		p.failed = true
		return
	}
	p.cur.span = p.open && p.span
	p.parts[p.n] = p.cur
	p.n++
	p.cur, p.open = storeyPart{}, false
}

// storeyWordAt returns the word that s begins with, nil for none. A word of letters
// that stand in rows ends where they do.
func storeyWordAt(s string) *storeyWord {
	for i := range storeyWords {
		w := &storeyWords[i]
		if !strings.HasPrefix(s, w.word) {
			continue
		}
		next, _ := utf8.DecodeRuneInString(s[len(w.word):])
		last, _ := utf8.DecodeLastRuneInString(w.word)
		if !unicode.IsLetter(next) || unicode.Is(unicode.Han, last) {
			return w
		}
	}
	return nil
}
