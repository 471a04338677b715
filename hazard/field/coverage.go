package field

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A Coverage describes a source as it was read, at its own return periods, for a
// person to check before it is used.
type Coverage struct {
	File          string
	Kind          string // what the file says its values are, "" if it does not
	Bound         orb.Bound
	Nodes         int
	Missing       int        // places of a grid without a node
	Spacing       [2]float64 // degrees east and north of a grid; 0 otherwise
	SpacingM      float64    // m, of scattered points: the median to the nearest other
	ReturnPeriods []float64  // yr, of the source
	Periods       []float64  // s
	Range         []Range    // one a return period
	Steep         int        // pairs of neighbours with a ratio above steepRatio
	Steepest      [2]orb.Point
	SteepestRatio float64 // largest ratio of PGA or Sa between neighbours
	Warnings      []string
}

// A Range is the least and the most of the nodes at one return period, in g.
type Range struct {
	ReturnPeriod   float64 // yr
	PGALow, PGATop float64
	SaLow, SaTop   float64 // over all periods
}

// steepRatio is the ratio between neighbours above which a reader should look
// again (judgement: hazard maps on grids of ten kilometres rarely change faster
// but at the edge of a block of wrong values).
const steepRatio = 2

// newCoverage describes the table; neighbours yields the pairs to compare.
func newCoverage(t *table, bound orb.Bound, neighbours func(func(a, b int))) Coverage {
	c := Coverage{
		File: t.file, Kind: t.kind, Bound: bound, Nodes: len(t.node),
		ReturnPeriods: t.levels, Periods: t.periods,
		Range: make([]Range, len(t.levels)),
	}
	width := 1 + len(t.periods)
	stride := len(t.levels) * width
	for l, level := range t.levels {
		r := Range{level, math.Inf(1), 0, math.Inf(1), 0}
		for n := range t.node {
			ln := t.ln[n*stride+l*width:][:width]
			pga := math.Exp(ln[0])
			r.PGALow, r.PGATop = min(r.PGALow, pga), max(r.PGATop, pga)
			for _, v := range ln[1:] {
				sa := math.Exp(v)
				r.SaLow, r.SaTop = min(r.SaLow, sa), max(r.SaTop, sa)
			}
		}
		c.Range[l] = r
	}
	c.steep(t, stride, neighbours)
	c.Warnings = t.notes
	if c.Steep > 0 {
		t.notes.add("%d pairs of neighbouring nodes differ by more than a factor %d, up to %.2g between (%s) and (%s)",
			c.Steep, steepRatio, c.SteepestRatio, where(c.Steepest[0]), where(c.Steepest[1]))
		c.Warnings = t.notes
	}
	return c
}

// steep finds how much neighbours differ.
func (c *Coverage) steep(t *table, stride int, neighbours func(func(a, b int))) {
	top := 0.0
	neighbours(func(a, b int) {
		far := 0.0
		for i, v := range t.ln[a*stride : (a+1)*stride] {
			far = max(far, math.Abs(v-t.ln[b*stride+i]))
		}
		if far > math.Log(steepRatio) {
			c.Steep++
		}
		if far >= top {
			top, c.Steepest = far, [2]orb.Point{t.node[a], t.node[b]}
		}
	})
	c.SteepestRatio = math.Exp(top)
}

func gridCoverage(t *table, g *lattice) Coverage {
	c := newCoverage(t, g.bound(), g.neighbours)
	c.Spacing = [2]float64{g.dLon, g.dLat}
	c.Missing = len(g.at) - len(t.node)
	return c
}

func pointsCoverage(t *table, x *index) Coverage {
	var gaps []float64
	c := newCoverage(t, extent(t.node), func(f func(a, b int)) {
		for n, p := range t.node {
			two := x.nearest(p, 2, math.Inf(1))
			if two.n < 2 {
				continue
			}
			other := two.near[1]
			if other.node == n { // a node within a hair of it
				other = two.near[0]
			}
			gaps = append(gaps, metres(max(two.near[0].d2, two.near[1].d2)))
			if n < other.node || x.nearest(t.node[other.node], 2, math.Inf(1)).near[1].node != n {
				f(n, other.node) // each pair once
			}
		}
	})
	c.SpacingM = median(gaps)
	return c
}

// median returns the middle of v, 0 if it is empty.
func median(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	slices.Sort(v)
	return v[len(v)/2]
}
