package inventory

import (
	"math"

	"plinth/archetypes"
	"plinth/pipeline/inventory/impute"
	"plinth/pipeline/inventory/outline"
	"plinth/pipeline/inventory/source"
)

// A survey is the first of two readings of the register. It counts the values from which missing ones
// are filled, and collects the outlines between which gaps are measured.
type survey struct {
	counts *impute.Survey // nil if no gaps are filled
	rings  *outline.Rings // nil if no neighbours are looked for
}

// A stock holds what a survey has found. It does not change afterwards.
type stock struct {
	alike *impute.Stock // nil if no gaps are filled
	gaps  *outline.Gaps // nil if none were measured
}

// stock ends the survey and returns what it has found.
func (s *survey) stock(m *mapping) (out *stock, err error) {
	out = &stock{}
	if s.rings != nil {
		out.gaps = s.rings.Measure()
	}
	if s.counts != nil {
		out.alike, err = s.counts.Stock(m.file)
	}
	return out, err
}

// outlines adds the outlines of a batch of rows.
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

// count counts the values that the row gives.
func (s *survey) count(w *row) {
	if s.counts == nil {
		return
	}
	w.deriveAll()
	var given [impute.NumQuantities]float64
	for q, f := range stockFields {
		given[q] = w.stockValue(f)
	}
	s.counts.Add(w.likeness(), given)
}

// stockFields lists the fields that are filled from like buildings.
var stockFields = [impute.NumQuantities]Field{
	impute.Year: Year, impute.Storeys: Storeys, impute.Footprint: Footprint, impute.System: System,
}

// levelWays holds the way of a value for each circle of like buildings.
var levelWays = [...]Way{
	impute.SameGroup: byGroup, impute.SameUse: byUse, impute.SameEra: byEra, impute.AllStock: byStock,
}

// group returns the owner's group of the row, "" for none.
func (w *row) group() string {
	if w.m.group < 0 {
		return ""
	}
	return w.cells[w.m.group]
}

// likeness returns the group, use and year by which like buildings of the register are found.
func (w *row) likeness() impute.Likeness {
	like := impute.Likeness{Group: w.group(), Use: -1, Year: w.num[Year]}
	if w.known(UseField) {
		like.Use = int(w.word[UseField])
	}
	return like
}

// stockValue returns the row's value of a field if the register gives it. A footprint also counts that
// was measured on an outline, or follows from a given floor area and storeys. It returns NaN otherwise.
func (w *row) stockValue(f Field) float64 {
	given := w.origin[f] == Given
	switch f {
	case Footprint:
		byArea := w.way[f] == byAreaStoreys && w.origin[Storeys] == Given && w.origin[FloorArea] == Given
		given = given || w.way[f] == byOutline || byArea
	case System:
		if given && archetypes.System(w.word[f]) != archetypes.UnknownMix {
			return float64(w.word[f])
		}
		return math.NaN()
	}
	if !given {
		return math.NaN()
	}
	return w.num[f]
}

// fromStock fills fields from the narrowest circle of like buildings that is large enough.
func (w *row) fromStock(s *impute.Stock) {
	for q, f := range stockFields {
		if w.known(f) || f == Storeys && w.known(Height) || f == Footprint && w.known(FloorArea) {
			continue
		}
		v, level, ok := s.Find(impute.Quantity(q), w.likeness())
		if !ok {
			continue
		}
		if f == System {
			w.word[f] = uint8(v)
		} else {
			w.num[f] = v
		}
		w.set(f, Assumed, levelWays[level])
	}
	w.deriveAll()
}
