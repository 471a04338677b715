package areas

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"github.com/paulmach/orb"

	"plinth/pipeline/output"
)

// A Table adds up the buildings of a run by area. Add takes them in the order of the run, which decides
// the last bits of sums.
type Table struct {
	least   int64 // buildings of an area that has a row of its own
	grid    *Grid // nil for groups
	sums    map[string]*sum
	without *sum // buildings without an area
}

// ByGroup returns a Table by the owner's groups. Areas of fewer than least buildings are joined.
func ByGroup(least int) *Table {
	return &Table{least: int64(least), sums: map[string]*sum{}, without: newSum("", "")}
}

// ByCell returns a Table by the cells of a grid.
func ByCell(g Grid, least int) *Table {
	t := ByGroup(least)
	t.grid = &g
	return t
}

// Add adds a building to the area that its column area names.
func (t *Table) Add(b *output.Building) {
	if b.Area == "" {
		t.without.add(b)
		return
	}
	s, ok := t.sums[b.Area]
	if !ok {
		kind := output.AreaGroup
		if t.grid != nil {
			kind = output.AreaCell
		}
		s = newSum(b.Area, kind)
		s.row.Joined = 1
		t.sums[b.Area] = s
	}
	s.add(b)
}

// Rows returns the areas by name, and last those that are joined.
//
// An area of fewer buildings than least has no row of its own. If all that is joined still has fewer,
// its numbers could be read off as what is left: the smallest other areas are then joined too, until it
// has enough. If the whole stock has fewer, the row holds their number and nothing else.
func (t *Table) Rows() []output.Area {
	names := slices.SortedFunc(maps.Keys(t.sums), func(a, b string) int {
		return cmp.Or(cmp.Compare(t.sums[a].row.Buildings, t.sums[b].row.Buildings), cmp.Compare(a, b))
	})
	rest := newSum(fmt.Sprintf("(fewer than %d buildings)", t.least), output.AreaJoined)
	rest.join(t.without)
	rest.row.Joined = 0
	var own []string
	for _, name := range names { // the smallest first
		s := t.sums[name]
		if n := rest.row.Buildings; s.row.Buildings < t.least || n > 0 && n < t.least {
			rest.join(s)
		} else {
			own = append(own, name)
		}
	}
	slices.Sort(own)
	rows := make([]output.Area, 0, len(own)+1)
	for _, name := range own {
		rows = append(rows, *t.sums[name].finish(t.outline(t.sums[name])))
	}
	switch n := rest.row.Buildings; {
	case n >= t.least && n > 0:
		rows = append(rows, *rest.finish(nil))
	case n > 0:
		row := rest.row
		output.Areas.Blank(&row)
		row.Name, row.Kind, row.Joined, row.Buildings = rest.row.Name, rest.row.Kind, rest.row.Joined, n
		rows = append(rows, row)
	}
	return rows
}

// outline returns the cell of an area, or the convex hull of its buildings.
func (t *Table) outline(s *sum) orb.Polygon {
	if t.grid == nil || len(s.hull.points) == 0 {
		return s.hull.outline()
	}
	p := s.hull.points[0]
	return t.grid.Bound(p.Lon(), p.Lat()).ToPolygon()
}
