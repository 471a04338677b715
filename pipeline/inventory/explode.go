package inventory

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"plinth/pipeline/inventory/fault"
	"plinth/pipeline/inventory/source"
)

// mostParts is the largest number of parts that one cell may list.
const mostParts = 1000

// A share says which part of a building a row stands for, if a cell lists several parts.
type share struct {
	of   int    // parts of the building, 1 for a whole one
	name string // the part's, as listed
	own  uint64 // the cells of the row that list a value for each part
}

// divided lists the fields that belong to the whole building. Each part gets an equal share of them.
var divided = [...]Field{FloorArea, Footprint, OccupantsDay, OccupantsNight, Value}

// explode replaces a row whose cell lists several parts by one row for each part. Another cell that
// lists as many things is split in the same way. All other cells are repeated.
func (m *mapping) explode(raw *Raw) {
	rows := &raw.split
	cells, lines, shapes := rows.Cells, rows.Lines, rows.Shapes
	rows.Cells, rows.Lines, rows.Shapes, raw.shares = nil, nil, nil, raw.shares[:0]
	for i, line := range lines {
		row := cells[i*m.width : (i+1)*m.width]
		parts := m.list(row[m.exploded])
		if len(parts) > mostParts {
			rows.Bad = append(rows.Bad, source.Bad{Line: line, Fault: source.Ragged,
				Raw:    fault.Clip(row[m.exploded]),
				Detail: fmt.Sprintf("its list has %d parts, at most %d are read", len(parts), mostParts)})
			continue
		}
		of := max(1, len(parts))
		rows.N += of - 1
		for k := range of {
			s := share{of: of}
			start := len(rows.Cells)
			rows.Cells = append(rows.Cells, row...)
			if of > 1 {
				s.name = parts[k]
				s.own = m.along(rows.Cells[start:], row, k, of)
			}
			rows.Lines, raw.shares = append(rows.Lines, line), append(raw.shares, s)
			if len(shapes) > 0 {
				rows.Shapes = append(rows.Shapes, shapes[i])
			}
		}
	}
	slices.SortStableFunc(rows.Bad, func(a, b source.Bad) int { return cmp.Compare(a.Line, b.Line) })
}

// list returns the parts listed in a cell, without empty ones.
func (m *mapping) list(cell string) []string {
	var parts []string
	for p := range strings.SplitSeq(cell, m.separator) {
		if p = strings.TrimSpace(p); p != "" {
			parts = append(parts, p)
		}
	}
	return parts
}

// along replaces each cell that lists as many things as there are parts by its thing number k. It
// returns which cells those are.
func (m *mapping) along(part, row []string, k, of int) (own uint64) {
	for c, cell := range row {
		if things := m.list(cell); len(things) == of {
			part[c] = things[k]
			own |= 1 << c
		}
	}
	return own
}

// partID returns the id of a part. It is the listed word if the column of ids lists the parts. Else the
// word is put behind the id of the building.
func (w *row) partID(id string) string {
	if w.share.of == 1 || id == "" || w.m.columns[w.m.of[ID]].at == w.m.explodedAt {
		return id
	}
	return id + "/" + w.share.name
}

// divide reduces the fields that belong to the whole building to the share of one part.
func (w *row) divide() {
	if w.share.of == 1 {
		return
	}
	header, raw := "", w.share.name
	if i := w.m.of[ID]; i >= 0 {
		header = w.m.columns[i].header
	}
	w.note(ListedPart, header, raw, "")
	for _, f := range divided {
		if i := w.m.of[f]; i >= 0 && w.share.own&(1<<i) == 0 && w.known(f) {
			w.num[f] /= float64(w.share.of)
			w.set(f, Assumed, byPart)
		}
	}
}
