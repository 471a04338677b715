package field

import (
	"io"
	"math"
	"sync"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geo"

	"plinth/hazard"
)

// A Grid is a field on a regular grid of longitude and latitude: bilinear in
// ln(Sa) within a cell whose corners all have values. In a cell with missing
// corners (the sea) a place takes its nearest corner that has values, and
// outside the cells the nearest node within Options.MaxDistance; Site.Status
// then says NearestNode. Site.Distance is that to the nearest corner.
type Grid struct {
	slab
	lattice  lattice
	node     []orb.Point
	reach    float64       // m
	index    func() *index // made when first needed
	coverage Coverage
}

// ReadGrid reads a regular grid in the long form (see ReadPoints) from r. The
// name of the file is for the problems.
func ReadGrid(r io.Reader, file string, o Options) (*Grid, error) {
	t, err := readTable(r, file, o)
	if err != nil {
		return nil, err
	}
	return newGrid(t, o)
}

func newGrid(t *table, o Options) (*Grid, error) {
	var ps Problems
	l := newLattice(t, &ps)
	if err := ps.err(); err != nil {
		return nil, err
	}
	node := t.node
	return &Grid{
		slab: t.slab(o), lattice: l, node: node, reach: o.MaxDistance,
		index:    sync.OnceValue(func() *index { return newIndex(node) }),
		coverage: gridCoverage(t, &l),
	}, nil
}

// Bound returns the extent of the nodes.
func (g *Grid) Bound() orb.Bound { return g.lattice.bound() }

// Coverage describes the grid.
func (g *Grid) Coverage() Coverage { return g.coverage }

// Lookup fills site for a place.
func (g *Grid) Lookup(lon, lat float64, class hazard.SiteClass, site *hazard.Site) error {
	lon, ok := place(lon, lat)
	if !ok {
		return nowhere(lon, lat)
	}
	at := orb.Point{lon, lat}
	c, ok := g.lattice.cell(at)
	if ok && c.whole {
		distance := geo.DistanceHaversine(at, g.node[c.b.node[c.b.heaviest()]])
		return g.fill(c.b, class, distance, 0, site)
	}
	if ok {
		if n, distance := c.closest(at, g.node); n >= 0 {
			return g.fill(only(n), class, distance, hazard.NearestNode, site)
		}
	}
	if g.reach > 0 {
		if n, distance := g.index().one(at, g.reach); n >= 0 {
			return g.fill(only(n), class, distance, hazard.NearestNode, site)
		}
	}
	return g.index().outside(at, g.node)
}

// closest returns the corner with values nearest to the place and its distance in
// m; -1 if the cell has none.
func (c *cell) closest(at orb.Point, node []orb.Point) (int, float64) {
	best, distance := -1, math.Inf(1)
	for _, n := range c.b.node {
		if n < 0 {
			continue
		}
		if d := geo.DistanceHaversine(at, node[n]); d < distance {
			best, distance = n, d
		}
	}
	return best, distance
}
