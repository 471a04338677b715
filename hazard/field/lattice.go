package field

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// latticeTolerance in degrees is the distance a node may lie off its place on the lattice: 0.1
// m on the ground, and the rounding of six printed decimals.
const latticeTolerance = 1e-6

// A lattice is an even grid of places, row by row from the south-west corner.
// Longitudes are counted east from the west edge, so that it may cross the
// antimeridian or go round the earth.
type lattice struct {
	west, south float64 // degrees
	dLon, dLat  float64 // degrees, > 0
	nLon, nLat  int     // at least 2
	round       bool    // the last column neighbours the first
	at          []int32 // node of each place, -1 for none
}

// newLattice finds the lattice of the table's nodes. It records a problem for nodes off the
// lattice, and where the nodes are so few that the fit is an accident.
func newLattice(t *table, ps *Problems) lattice {
	lons, lats := make([]float64, len(t.node)), make([]float64, len(t.node))
	for i, p := range t.node {
		lons[i], lats[i] = p[0], p[1]
	}
	var g lattice
	g.west, g.south = westmost(lons), slices.Min(lats)
	for i := range lons {
		lons[i], lats[i] = east(g.west, lons[i]), lats[i]-g.south
	}
	var evenLon, evenLat bool
	g.dLon, g.nLon, evenLon = even(lons)
	g.dLat, g.nLat, evenLat = even(lats)
	if !evenLon || !evenLat || g.nLon*g.nLat > sparse*len(t.node) {
		ps.add(Problem{File: t.file, Column: "lon, lat",
			Rule: fmt.Sprintf("the %d nodes are no regular grid: they lie on no even step in both "+
				"directions", len(t.node)),
			Remedy: "read the file as scattered points"})
		return g
	}
	g.round = math.Abs(float64(g.nLon)*g.dLon-360) < latticeTolerance
	g.place(t, ps)
	return g
}

// sparse is the largest number of places a lattice may have for each node: scattered points
// printed with few decimals always fit some fine lattice (judgement).
const sparse = 20

// place puts the nodes on the lattice.
func (g *lattice) place(t *table, ps *Problems) {
	g.at = make([]int32, g.nLon*g.nLat)
	for i := range g.at {
		g.at[i] = -1
	}
	for n, p := range t.node {
		col := int(math.Round(east(g.west, p[0]) / g.dLon))
		row := int(math.Round((p[1] - g.south) / g.dLat))
		if at := &g.at[row*g.nLon+col]; *at < 0 {
			*at = int32(n)
		} else {
			ps.add(Problem{File: t.file, Line: t.line[n], Column: "lon, lat", Value: where(p),
				Rule:   fmt.Sprintf("the node lies on that of line %d", t.line[*at]),
				Remedy: "write the same place in the same way"})
		}
	}
}

// even returns the step and count of the lattice through the offsets v >= 0, one
// of which is 0, and whether all of them lie on it.
func even(v []float64) (step float64, n int, ok bool) {
	s := slices.Clone(v)
	slices.Sort(s)
	s = slices.CompactFunc(s, func(a, b float64) bool { return math.Abs(b-a) <= latticeTolerance })
	if len(s) < 2 {
		return 0, len(s), false
	}
	step = math.Inf(1)
	for i := 1; i < len(s); i++ {
		step = min(step, s[i]-s[i-1])
	}
	span := s[len(s)-1]
	n = int(math.Round(span/step)) + 1
	step = span / float64(n-1)
	for _, x := range s {
		if math.Abs(x-math.Round(x/step)*step) > latticeTolerance {
			return step, n, false
		}
	}
	return step, n, true
}

// westmost returns the west edge of the shortest arc that holds all longitudes:
// the one east of their widest gap.
func westmost(lons []float64) float64 {
	s := slices.Clone(lons)
	slices.Sort(s)
	west, gap := s[0], s[0]+360-s[len(s)-1]
	for i := 1; i < len(s); i++ {
		if d := s[i] - s[i-1]; d > gap+latticeTolerance {
			west, gap = s[i], d
		}
	}
	return west
}

// east returns the degrees from west eastwards to lon, in [0, 360). A lon west of west by a
// rounding error keeps its small negative value.
func east(west, lon float64) float64 {
	d := lon - west
	switch {
	case d < -latticeTolerance:
		d += 360
	case d >= 360-latticeTolerance:
		d -= 360
	}
	return d
}

// A cell is the four corners around a place, south-west, south-east, north-west
// and north-east, with their bilinear weights. A corner without a node is -1.
type cell struct {
	b     blend
	whole bool // every corner with weight has a node
}

// cell returns the cell of a place, false outside the lattice.
func (g *lattice) cell(p orb.Point) (c cell, ok bool) {
	x, y := snap(east(g.west, p[0])/g.dLon), snap((p[1]-g.south)/g.dLat)
	lastX, lastY := g.nLon-2, g.nLat-2 // index of the last cell
	if g.round {
		lastX++
	}
	if !(x >= 0 && x <= float64(lastX+1) && y >= 0 && y <= float64(lastY+1)) {
		return c, false
	}
	i, j := min(int(x), lastX), min(int(y), lastY)
	i1 := (i + 1) % g.nLon
	u, v := x-float64(i), y-float64(j)
	low, high := g.at[j*g.nLon:], g.at[(j+1)*g.nLon:]
	c.b.node = [4]int{int(low[i]), int(low[i1]), int(high[i]), int(high[i1])}
	c.b.w = [4]float64{(1 - u) * (1 - v), u * (1 - v), (1 - u) * v, u * v}
	c.whole = true
	for k, n := range c.b.node {
		c.whole = c.whole && (n >= 0 || c.b.w[k] == 0)
	}
	if c.whole {
		c.b.patch()
	}
	return c, true
}

// snap moves a lattice coordinate within rounding of a line onto it, so that a place on an edge
// needs no node beyond.
func snap(x float64) float64 {
	if r := math.Round(x); math.Abs(x-r) < 1e-7 {
		return r
	}
	return x
}

// bound returns the extent of the lattice.
func (g *lattice) bound() orb.Bound {
	return orb.Bound{
		Min: orb.Point{g.west, g.south},
		Max: orb.Point{g.west + float64(g.nLon-1)*g.dLon, g.south + float64(g.nLat-1)*g.dLat},
	}
}

// neighbours calls f with each two nodes side by side along a row or a column.
func (g *lattice) neighbours(f func(a, b int)) {
	for at, n := range g.at {
		row, col := at/g.nLon, at%g.nLon
		if n < 0 {
			continue
		}
		if col+1 < g.nLon || g.round {
			if e := g.at[row*g.nLon+(col+1)%g.nLon]; e >= 0 {
				f(int(n), int(e))
			}
		}
		if row+1 < g.nLat {
			if e := g.at[at+g.nLon]; e >= 0 {
				f(int(n), int(e))
			}
		}
	}
}
