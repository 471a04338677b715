package field

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A table is a source's values before they are brought to the run's levels.
type table struct {
	file    string
	node    []orb.Point // each once, south to north and west to east
	line    []int       // where each node first stands
	levels  []float64   // return periods, yr, ascending
	periods []float64   // s, ascending
	ln      []float64   // for each node, each level: ln(PGA in g), then ln(Sa in g)
	kind    string      // what the file says its values are, "" if it does not
	repeats int         // rows that say again what another says
	empty   int         // rows without any value
	notes   notes
}

// A row is one node at one return period.
type row struct {
	node  int
	level int // into rows.levels
	line  int
	ln    int // start in rows.ln
}

// rows gathers the rows of a source in any order.
type rows struct {
	file   string
	id     map[orb.Point]int
	node   []orb.Point
	line   []int
	levels []float64
	row    []row
	ln     []float64
	name   func(orb.Point) string // of a node in problems, nil for its place
}

// call names a node.
func (r *rows) call(p orb.Point) string {
	if r.name != nil {
		return r.name(p)
	}
	return "node " + where(p)
}

// add takes the logarithms ln of one node at one return period.
func (r *rows) add(p orb.Point, period float64, line int, ln []float64) {
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
		l = len(r.levels)
		r.levels = append(r.levels, period)
	}
	r.row = append(r.row, row{n, l, line, len(r.ln)})
	r.ln = append(r.ln, ln...)
}

// table puts the rows in order, which makes the result independent of theirs,
// and finds those that say different things of the same node and the nodes that
// lack a return period.
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

	width := 1 + len(periods)
	t.ln = make([]float64, len(t.node)*len(t.levels)*width)
	seen := make([]int, len(t.node)*len(t.levels)) // line of each node and level, 0 not seen
	for _, w := range r.row {
		at := place[w.node]*len(t.levels) + level[w.level]
		dst, src := t.ln[at*width:(at+1)*width], r.ln[w.ln:w.ln+width]
		switch {
		case seen[at] == 0:
			seen[at] = w.line
			copy(dst, src)
		case slices.Equal(dst, src):
			t.repeats++
		default:
			ps.add(Problem{File: r.file, Line: w.line, Column: "return_period_yr",
				Value: number(r.levels[w.level]),
				Rule:  fmt.Sprintf("%s stands at line %d with other values", r.call(r.node[w.node]), seen[at]), Remedy: "keep one of the two"})
		}
	}
	for at, line := range seen {
		if line == 0 {
			n := at / len(t.levels)
			ps.add(Problem{File: r.file, Line: t.line[n], Column: "return_period_yr",
				Rule:   fmt.Sprintf("%s lacks return period %s", r.call(t.node[n]), number(t.levels[at%len(t.levels)])),
				Remedy: "give every node the same return periods"})
		}
	}
	return t
}

// south orders places from south to north, then from west to east.
func south(a, b orb.Point) int {
	if a[1] != b[1] {
		return cmp.Compare(a[1], b[1])
	}
	return cmp.Compare(a[0], b[0])
}

// where writes a place.
func where(p orb.Point) string { return number(p[0]) + ", " + number(p[1]) }

// slab brings the table to the run's levels.
func (t *table) slab(o Options) slab { return newSlab(t.levels, t.periods, t.ln, o) }

// look makes the notes that a reader of the table should see.
func (t *table) look() {
	if t.repeats > 0 {
		t.notes.add("%d rows repeat another and are read once", t.repeats)
	}
	if t.empty > 0 {
		t.notes.add("%d rows hold no value and are no nodes", t.empty)
	}
	width := 1 + len(t.periods)
	high, top, falls := 0, math.Inf(-1), 0
	for i, v := range t.ln {
		if v > math.Log(highSa) {
			high++
			top = max(top, v)
		}
		l := i / width % len(t.levels)
		if l > 0 && v < t.ln[i-width] {
			falls++
		}
	}
	if high > 0 {
		t.notes.add("%d of %d values are above %g g (up to %.3g g): is the unit right?", high, len(t.ln), highSa, math.Exp(top))
	}
	if falls > 0 {
		t.notes.add("%d values are lower than at the next shorter return period", falls)
	}
}

// highSa in g is above nearly every mapped value; numbers above it are more
// likely in another unit (judgement: m/s2 read as g is ten times too high).
const highSa = 5.0

// notes are the warnings of a source, in the order found.
type notes []string

func (n *notes) add(format string, args ...any) { *n = append(*n, fmt.Sprintf(format, args...)) }

// unread notes the columns of the header that are not among those known.
func (n *notes) unread(header []string, known ...int) {
	for i, h := range header {
		if !slices.Contains(known, i) {
			n.add("column %q is not read", h)
		}
	}
}
