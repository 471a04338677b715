package inventory

import (
	"fmt"
	"math"
	"slices"

	"plinth/archetypes"
	"plinth/pipeline/inventory/fault"
	"plinth/pipeline/inventory/outline"
	"plinth/pipeline/inventory/source"
)

// A level is a circle of like buildings that a gap is filled from, the narrowest
// first.
type level uint8

const (
	sameGroup level = iota
	sameUse
	sameEra
	allStock

	numLevels
)

var levelWays = [numLevels]Way{byGroup, byUse, byEra, byStock}

const (
	leastAlike = 5    // given values that a circle needs to fill a gap (judgement)
	mostGroups = 1e5  // values of the column of groups; more are ids
	eraYears   = 20   // an era is 20 years long, from 1900, 1920, ... (judgement)
	areaStep   = 0.01 // footprints are counted in steps of 1 %
)

// stockFields are filled from like buildings. Footprint stands for the floor area
// of one storey, which follows the use; a floor area alone follows the storeys.
var stockFields = [...]Field{Year, Storeys, Footprint, System}

// A survey counts the given values of the fields that gaps are filled from, in a
// first reading of the register. Counts are of whole numbers, so that no order of
// rows changes them; the memory grows with groups and different values, not with
// rows.
type survey struct {
	groups map[string]int
	counts map[circle]map[int]int // by value, nil if no gaps are filled
	rings  *outline.Rings         // nil if no neighbours are looked for
}

// A circle is one field of the buildings that are alike in one way.
type circle struct {
	level level
	field Field
	which int // number of the group, use or era
}

// count counts what the row gives.
func (s *survey) count(w *row) {
	if s.counts == nil {
		return
	}
	if i := w.m.group; i >= 0 {
		g := groupName(w)
		if _, ok := s.groups[g]; !ok && len(s.groups) <= mostGroups {
			s.groups[g] = len(s.groups)
		}
	}
	w.deriveAll()
	for _, f := range stockFields {
		v, ok := w.stockValue(f)
		if !ok {
			continue
		}
		for l := range numLevels {
			c, ok := w.circle(l, f, s.groups)
			if !ok {
				continue
			}
			if s.counts[c] == nil {
				s.counts[c] = make(map[int]int)
			}
			s.counts[c][v]++
		}
	}
}

// outlines takes the outlines of some rows.
func (s *survey) outlines(rows *source.Rows, swap bool) {
	for i, g := range rows.Shapes {
		if i > 0 && rows.Lines[i] == rows.Lines[i-1] {
			continue // a part of the row before
		}
		if swap && g != nil {
			g = outline.Exchanged(g)
		}
		s.rings.Add(rows.Lines[i], g)
	}
}

func groupName(w *row) string { return w.cells[w.m.group] }

// circle returns the row's circle of a level; ok is false if it has none.
func (w *row) circle(l level, f Field, groups map[string]int) (c circle, ok bool) {
	c = circle{level: l, field: f}
	switch l {
	case sameGroup:
		if w.m.group < 0 || groupName(w) == "" {
			return c, false
		}
		c.which, ok = groups[groupName(w)]
		return c, ok
	case sameUse:
		c.which = int(w.word[UseField])
		return c, w.known(UseField)
	case sameEra:
		c.which = int(math.Floor(w.num[Year] / eraYears))
		return c, w.known(Year) && f != Year
	}
	return c, true
}

// stockValue returns the whole number that stands for the row's value of a field,
// if the register gives it, measured or by figures.
func (w *row) stockValue(f Field) (v int, ok bool) {
	switch {
	case f == Footprint:
		given := w.origin[f] == Given || w.way[f] == byOutline || w.way[f] == byAreaStoreys && w.origin[Storeys] == Given && w.origin[FloorArea] == Given
		return int(math.Round(math.Log(w.num[f]) / areaStep)), given
	case w.origin[f] != Given:
		return 0, false
	case f == System:
		return int(w.word[f]), archetypes.System(w.word[f]) != archetypes.UnknownMix
	}
	return int(w.num[f]), true
}

// A stock is what a survey has found: for every circle of enough buildings the
// median, or the most frequent system. It is read only.
type stock struct {
	groups map[string]int
	values map[circle]float64
	gaps   *outline.Gaps // nil if none were measured
}

// stock ends the survey.
func (s *survey) stock(m *mapping) (*stock, error) {
	if len(s.groups) > mostGroups {
		return nil, &fault.FileError{File: m.file, Key: "inventory.group", Rule: fmt.Sprintf("the column has more than %.0f different values", float64(mostGroups)), Remedy: "name a column of groups, such as sites or owners, not of ids"}
	}
	out := &stock{groups: s.groups, values: make(map[circle]float64)}
	if s.rings != nil {
		out.gaps = s.rings.Measure()
	}
	for c, counts := range s.counts {
		if v, ok := middle(counts, c.field == System); ok {
			if c.field == Footprint {
				out.values[c] = math.Exp(float64(v) * areaStep)
			} else {
				out.values[c] = float64(v)
			}
		}
	}
	return out, nil
}

// middle returns the lower median of counted values, or the most frequent of
// words, the lowest of those that are equally frequent.
func middle(counts map[int]int, word bool) (v int, ok bool) {
	total := 0
	var values []int
	for v, n := range counts {
		total += n
		values = append(values, v)
	}
	if total < leastAlike {
		return 0, false
	}
	slices.Sort(values)
	most, run := 0, 0
	for _, x := range values {
		if n := counts[x]; word && n > most {
			v, most = x, n
		}
		if run += counts[x]; !word && 2*run >= total {
			return x, true
		}
	}
	return v, true
}

// fromStock fills fields from the narrowest circle that is large enough.
func (w *row) fromStock(s *stock) {
	for _, f := range stockFields {
		if w.known(f) || f == Storeys && w.known(Height) || f == Footprint && w.known(FloorArea) {
			continue
		}
		for l := range numLevels {
			c, ok := w.circle(l, f, s.groups)
			if !ok {
				continue
			}
			v, ok := s.values[c]
			if !ok {
				continue
			}
			if f == System {
				w.word[f] = uint8(v)
			} else {
				w.num[f] = v
			}
			w.set(f, Assumed, levelWays[l])
			break
		}
	}
	w.deriveAll()
}
