package field

import (
	"math"
	"sync"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geo"

	"plinth/hazard"
)

// mesh reads nodes on a regular grid of longitude and latitude: bilinear within a cell whose
// corners all have values. In a cell with missing corners (the sea) a place takes the nearest
// corner that has values, and outside the cells the nearest node within reach; the status is
// then NearestNode. The distance is that to the nearest corner.
type mesh struct {
	lattice
	node  []orb.Point
	reach float64       // m, 0 for none
	index func() *index // built on first use
}

func newMesh(t *table, reach float64, ps *Problems) *mesh {
	node := t.node
	return &mesh{
		lattice: newLattice(t, ps), node: node, reach: reach,
		index: sync.OnceValue(func() *index { return newIndex(node) }),
	}
}

func (m *mesh) locate(at orb.Point) (blend, float64, hazard.Status, error) {
	c, ok := m.cell(at)
	if ok && c.whole {
		return c.b, geo.DistanceHaversine(at, m.node[c.b.node[c.b.heaviest()]]), 0, nil
	}
	if ok {
		if n, d := c.closest(at, m.node); n >= 0 {
			return only(n), d, hazard.NearestNode, nil
		}
	}
	if m.reach > 0 {
		if n, d := m.index().one(at, m.reach); n >= 0 {
			return only(n), d, hazard.NearestNode, nil
		}
	}
	return blend{}, 0, 0, m.index().outside(at, m.node)
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

func (m *mesh) describe(c *Coverage) {
	c.Spacing = [2]float64{m.dLon, m.dLat}
	c.Missing = len(m.at) - len(m.node)
}
