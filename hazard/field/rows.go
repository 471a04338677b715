package field

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"plinth/hazard"
)

// A row is one node at one return period.
type row struct {
	node  int
	level int // into rows.levels
	line  int
	ln    int // start index in rows.ln

	shaking hazard.Shaking
}

// rows gathers the rows of a source in any order.
type rows struct {
	file    string
	id      map[orb.Point]int
	node    []orb.Point
	line    []int
	levels  []float64
	row     []row
	ln      []float64
	crowded int                    // last line with a return period beyond maxLevels
	name    func(orb.Point) string // name of a node in problems, nil for its coordinates
}

// maxLevels is the most return periods a source may have. A column that does not hold return
// periods has about as many values as the file has rows.
const maxLevels = 100

// call names a node.
func (r *rows) call(p orb.Point) string {
	if r.name != nil {
		return r.name(p)
	}
	return "node " + where(p)
}

// add records the logarithms ln of one node at one return period, and how the ground shakes.
func (r *rows) add(p orb.Point, period float64, line int, ln []float64, shaking hazard.Shaking) {
	n, ok := r.id[p]
	if !ok {
		if r.id == nil {
			r.id = map[orb.Point]int{}
		}
		n = len(r.node)
		r.id[p] = n
		r.node, r.line = append(r.node, p), append(r.line, line)
	}
	l := slices.Index(r.levels, period)
	if l < 0 {
		if len(r.levels) == maxLevels {
			r.crowded = max(r.crowded, line)
			return
		}
		l = len(r.levels)
		r.levels = append(r.levels, period)
	}
	r.row = append(r.row, row{n, l, line, len(r.ln), shaking})
	r.ln = append(r.ln, ln...)
}

// table sorts the rows, so that the result does not depend on their order. It finds rows that
// contradict each other at a node, and nodes without one of the return periods. With problems
// the table has no values.
func (r *rows) table(periods []float64, ps *Problems) *table {
	t := &table{file: r.file, periods: periods, levels: slices.Clone(r.levels)}
	slices.Sort(t.levels)
	level := make([]int, len(r.levels)) // from order of appearance to ascending
	for i, v := range r.levels {
		level[i], _ = slices.BinarySearch(t.levels, v)
	}
	order := make([]int, len(r.node))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int { return south(r.node[i], r.node[j]) })
	place := make([]int, len(r.node))
	for to, from := range order {
		place[from] = to
		t.node, t.line = append(t.node, r.node[from]), append(t.line, r.line[from])
	}

	if r.crowded > 0 {
		ps.add(Problem{File: r.file, Line: r.crowded, Column: "return_period_yr",
			Rule:   fmt.Sprintf("the rows have more than %d return periods", maxLevels),
			Remedy: "is it the right column?"})
		return t
	}
	t.fill(r, place, level, ps)
	return t
}

// fill copies the values of the rows to their nodes and levels; place and level map those of
// the rows to those of the table.
func (t *table) fill(r *rows, place, level []int, ps *Problems) {
	width := 1 + len(t.periods)
	values := func(row int) []float64 { return r.ln[r.row[row].ln:][:width] }
	first := make([]int, len(t.node)*len(t.levels)) // row of each node and level, -1 for none
	for at := range first {
		first[at] = -1
	}
	for i, w := range r.row {
		at := &first[place[w.node]*len(t.levels)+level[w.level]]
		switch {
		case *at < 0:
			*at = i
		case slices.Equal(values(*at), values(i)) && r.row[*at].shaking == w.shaking:
			t.repeats++
		default:
			ps.add(Problem{File: r.file, Line: w.line, Column: "return_period_yr",
				Value: number(r.levels[w.level]),
				Rule: fmt.Sprintf("%s stands at line %d with other values", r.call(r.node[w.node]),
					r.row[*at].line),
				Remedy: "keep one of the two"})
		}
	}
	for at, row := range first {
		if row < 0 {
			n := at / len(t.levels)
			ps.add(Problem{File: r.file, Line: t.line[n], Column: "return_period_yr",
				Rule: fmt.Sprintf("%s lacks return period %s", r.call(t.node[n]),
					number(t.levels[at%len(t.levels)])),
				Remedy: "give every node the same return periods"})
		}
	}
	if ps.err() != nil {
		return
	}
	t.ln = make([]float64, 0, len(first)*width)
	for _, row := range first {
		t.ln = append(t.ln, values(row)...)
		t.shaking = append(t.shaking, r.row[row].shaking)
	}
}

// south orders places from south to north, then from west to east.
func south(a, b orb.Point) int {
	if a[1] != b[1] {
		return cmp.Compare(a[1], b[1])
	}
	return cmp.Compare(a[0], b[0])
}

// where formats a place.
func where(p orb.Point) string { return number(p[0]) + ", " + number(p[1]) }
