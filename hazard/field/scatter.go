package field

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"plinth/hazard"
)

// nearby is the number of nodes from which a place between scattered ones is read.
const nearby = 4

// scatter reads nodes at arbitrary places. A place is read from the four nearest within reach,
// weighted by the inverse square of their distance,
//
//	ln Sa = sum(ln Sa_i / d_i^2) / sum(1 / d_i^2)
//
// (Shepard 1968, A two-dimensional interpolation function for irregularly-spaced
// data, Proceedings of the 23rd ACM National Conference, 517-524; exponent 2).
// At a node it is the node's value. The distance returned is that to the nearest.
type scatter struct {
	node  []orb.Point
	index *index
	reach float64 // m
	other []near  // nearest other node of each, -1 if it is alone; for the coverage
}

func newScatter(t *table, reach float64) *scatter {
	if reach == 0 {
		reach = DefaultMaxDistance
	}
	s := &scatter{node: t.node, index: newIndex(t.node), reach: reach}
	for n, at := range s.node {
		two := s.index.nearest(at, 2, math.Inf(1))
		switch {
		case two.n < 2:
			s.other = append(s.other, near{node: -1})
		case two.near[0].node == n:
			s.other = append(s.other, two.near[1])
		default:
			s.other = append(s.other, two.near[0])
		}
	}
	return s
}

func (s *scatter) locate(at orb.Point) (blend, float64, hazard.Status, error) {
	f := s.index.nearest(at, nearby, s.reach)
	if f.n == 0 {
		return blend{}, 0, 0, s.index.outside(at, s.node)
	}
	return f.blend(), metres(f.near[0].d2), 0, nil
}

// blend weights the nodes found by the inverse square of their distance. Chords approximate
// distances: at 100 km they differ by 1e-5.
func (f *found) blend() blend {
	b := only(f.near[0].node)
	if f.near[0].d2 < atNode {
		return b
	}
	sum := 0.0
	for i, n := range f.near[:f.n] {
		b.node[i], b.w[i] = n.node, f.near[0].d2/n.d2
		sum += b.w[i]
	}
	for i := range b.w {
		b.w[i] /= sum
	}
	return b
}

// atNode is the squared chord of 1 mm; a place within it is at the node.
const atNode = (1e-3 / orb.EarthRadius) * (1e-3 / orb.EarthRadius)

// neighbours calls f with each node and the one nearest to it, each pair once.
func (s *scatter) neighbours(f func(a, b int)) {
	for n, o := range s.other {
		if o.node >= 0 && (n < o.node || s.other[o.node].node != n) {
			f(n, o.node)
		}
	}
}

func (s *scatter) describe(c *Coverage) {
	if len(s.node) < 2 {
		return
	}
	gaps := make([]float64, len(s.node))
	for n, o := range s.other {
		gaps[n] = metres(o.d2)
	}
	slices.Sort(gaps)
	c.SpacingM = gaps[len(gaps)/2]
}

// bound returns the extent of the nodes, east of their widest gap.
func (s *scatter) bound() orb.Bound {
	lons := make([]float64, len(s.node))
	for i, p := range s.node {
		lons[i] = p[0]
	}
	west := westmost(lons)
	b := orb.Bound{Min: orb.Point{west, 90}, Max: orb.Point{west, -90}}
	for _, p := range s.node {
		b.Max[0] = max(b.Max[0], west+east(west, p[0]))
		b.Min[1], b.Max[1] = min(b.Min[1], p[1]), max(b.Max[1], p[1])
	}
	return b
}
