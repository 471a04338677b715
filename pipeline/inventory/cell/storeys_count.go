package cell

import (
	"fmt"
	"strings"
	"unicode"
)

// mostSpan is the largest range of storeys that is read as one count (judgement): a
// building on a slope, or with a set-back; beyond it several buildings are meant.
const mostSpan = 2

// count adds up the parts.
func (p *storeyParser) count() (c Storeys, ok bool) {
	c.Below = -1
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
			c.Below = max(c.Below, 0)
			switch {
			case t.label:
				lowest = max(lowest, t.n)
			case t.numbered:
				c.Below += t.n
			default:
				c.Below++
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
	if c.Below >= 0 {
		c.Below += lowest
	}
	return c, c.sum(above, ground, upper)
}

// sum sets the storeys above ground from the parts that count them.
func (c *Storeys) sum(above []storeyPart, ground, upper bool) bool {
	switch {
	case len(above) == 0 && ground:
		c.Above = 1
	case len(above) == 0:
		return c.Below >= 0 && !c.roof && !c.mezzanine
	case len(above) == 1 && ground:
		c.Above = 1 + above[0].n
		return above[0].class != anAbove
	case upper || ground || c.mezzanine:
		return false
	case len(above) == 1:
		c.Above = above[0].n
	default:
		low, high := above[0], above[1]
		c.Above, c.Span = high.n, true
		return high.span && low.n >= 1 && high.n > low.n && high.n-low.n <= mostSpan && !c.half
	}
	return c.Above >= 1
}

// String says what was read.
func (c Storeys) String() string {
	var parts []string
	if c.Above > 0 {
		parts = append(parts, fmt.Sprintf("%d above ground", c.Above))
	}
	if c.Below >= 0 {
		parts = append(parts, fmt.Sprintf("%d below", c.Below))
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

// SaysNumber reports whether a cell has a digit, or a number in letters that the table
// of words knows.
func SaysNumber(s string) bool {
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
