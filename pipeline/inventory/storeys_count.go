package inventory

import (
	"fmt"
	"strings"
	"unicode"
)

// mostSpan is the largest range of storeys that is read as one count (judgement): a
// building on a slope, or with a set-back; beyond it several buildings are meant.
const mostSpan = 2

// count adds up the parts.
func (p *storeyParser) count() (c storeyCount, ok bool) {
	c.below = -1
	ground, upper, lowest := false, false, 0
	var room [2]storeyPart
	above := room[:0]
	for _, t := range p.parts[:p.n] {
		if t.class == groundOrRoof {
			if t.class = theGround; ground {
				t.class = aRoof
			}
		}
		c.half = c.half || t.half
		switch t.class {
		case aBasement:
			if t.half {
				return c, false
			}
			c.below = max(c.below, 0)
			switch {
			case t.label:
				lowest = max(lowest, t.n)
			case t.numbered:
				c.below += t.n
			default:
				c.below++
			}
		case aRoof:
			c.roof = true
		case aMezzanine:
			if t.numbered {
				return c, false // metres, perhaps
			}
			c.mezzanine = true
		case theGround:
			if ground || t.numbered {
				return c, false
			}
			ground = true
		default:
			if !t.numbered || len(above) == len(room) {
				return c, false
			}
			upper = upper || t.class == anUpper
			above = append(above, t)
		}
	}
	if c.below >= 0 {
		c.below += lowest
	}
	return c, c.sum(above, ground, upper)
}

// sum sets the storeys above ground from the parts that count them.
func (c *storeyCount) sum(above []storeyPart, ground, upper bool) bool {
	switch {
	case len(above) == 0 && ground:
		c.above = 1
	case len(above) == 0:
		return c.below >= 0 && !c.roof && !c.mezzanine
	case len(above) == 1 && ground:
		c.above = 1 + above[0].n
		return above[0].class != anAbove
	case upper || ground || c.mezzanine:
		return false
	case len(above) == 1:
		c.above = above[0].n
	default:
		low, high := above[0], above[1]
		c.above, c.span = high.n, true
		return high.span && low.n >= 1 && high.n > low.n && high.n-low.n <= mostSpan && !c.half
	}
	return c.above >= 1
}

// String says what was read.
func (c storeyCount) String() string {
	var parts []string
	if c.above > 0 {
		parts = append(parts, fmt.Sprintf("%d above ground", c.above))
	}
	if c.below >= 0 {
		parts = append(parts, fmt.Sprintf("%d below", c.below))
	}
	for _, o := range [...]struct {
		said bool
		word string
	}{{c.half, "half a storey"}, {c.roof, "a roof storey"}, {c.mezzanine, "a mezzanine"}} {
		if o.said {
			parts = append(parts, o.word+" not counted")
		}
	}
	return strings.Join(parts, ", ")
}

// readStoreys takes a count of storeys in a notation. A cell that says a number but
// cannot be read rejects the row in the end: no other field may stand for it.
func (w *row) readStoreys(c *column, s, raw string) {
	got, ok := parseStoreys(s)
	f := c.field
	switch {
	case f == StoreysBelow && (!ok || got.above > 0 || !f.Spec().holds(float64(got.below))):
		w.note(NotANumber, c.header, raw, "")
		return
	case f == StoreysBelow:
		w.num[f] = float64(got.below)
		w.set(f, Given, byNotation)
	case !ok || !f.Spec().holds(float64(got.above)) || float64(got.below) > StoreysBelow.Spec().Max:
		if saysNumber(s) {
			w.unread = f
		} else {
			w.note(NotANumber, c.header, raw, "")
		}
		return
	default:
		w.notation(f, got)
	}
	w.note(StoreysNotation, c.header, raw, got.String())
	if got.span {
		w.note(Approximate, c.header, raw, fmt.Sprint(got.above))
		w.set(f, Assumed, byDoubtful)
	}
}

// notation sets storeys above ground or in all, and those below where they are said.
func (w *row) notation(f Field, got storeyCount) {
	w.num[f] = float64(got.above)
	if f == StoreysTotal {
		w.num[f] += float64(max(got.below, 0))
	}
	w.set(f, Given, byNotation)
	if got.below < 0 || w.known(StoreysBelow) {
		return
	}
	w.num[StoreysBelow] = float64(got.below)
	w.set(StoreysBelow, Given, byNotation)
	if w.m.of[StoreysBelow] < 0 {
		w.b.given[StoreysBelow]++
	}
}

// saysNumber reports whether a cell has a digit, or a number in letters that the table
// of words knows.
func saysNumber(s string) bool {
	if strings.ContainsFunc(s, unicode.IsNumber) {
		return true
	}
	between := func(r rune) bool { return r == ' ' || r == '-' || r == '+' }
	for word := range strings.FieldsFuncSeq(strings.ToLower(s), between) {
		if w := storeyWordAt(word); w != nil && w.word == word && w.class == aNumber {
			return true
		}
	}
	return false
}
