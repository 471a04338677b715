package field

import (
	"io"

	"github.com/paulmach/orb"

	"plinth/hazard"
)

// nearby is how many nodes a place between scattered points is read from.
const nearby = 4

// Points is a field of scattered nodes: the mean of ln(Sa) over the four nearest
// within Options.MaxDistance, weighted by the inverse square of their distance,
//
//	ln Sa = sum(ln Sa_i / d_i^2) / sum(1 / d_i^2)
//
// (Shepard 1968, A two-dimensional interpolation function for irregularly-spaced
// data, Proceedings of the 23rd ACM National Conference, 517-524; exponent 2).
// At a node it is the node's value. Site.Distance is that to the nearest.
type Points struct {
	slab
	node     []orb.Point
	index    *index
	reach    float64 // m
	coverage Coverage
}

// ReadPoints reads scattered nodes from r: a CSV file in the long form, a row for
// each node and return period, with the columns
//
//	lon, lat          degrees; also longitude, latitude
//	return_period_yr  yr
//	pga               peak ground acceleration; also pga_g, sa_0
//	sa_0.1, ...       5 % damped spectral acceleration, by the period in s
//	kind              what the values are, the same in every row (optional)
//
// in any order, the rows too. The name of the file is for the problems.
func ReadPoints(r io.Reader, file string, o Options) (*Points, error) {
	t, err := readTable(r, file, o)
	if err != nil {
		return nil, err
	}
	return newPoints(t, o), nil
}

func newPoints(t *table, o Options) *Points {
	p := &Points{slab: t.slab(o), node: t.node, index: newIndex(t.node), reach: o.MaxDistance}
	if p.reach == 0 {
		p.reach = DefaultMaxDistance
	}
	p.coverage = pointsCoverage(t, p.index)
	return p
}

// Bound returns the extent of the nodes.
func (p *Points) Bound() orb.Bound { return p.coverage.Bound }

// Coverage describes the nodes.
func (p *Points) Coverage() Coverage { return p.coverage }

// Lookup fills site for a place.
func (p *Points) Lookup(lon, lat float64, class hazard.SiteClass, site *hazard.Site) error {
	lon, ok := place(lon, lat)
	if !ok {
		return nowhere(lon, lat)
	}
	at := orb.Point{lon, lat}
	f := p.index.nearest(at, nearby, p.reach)
	if f.n == 0 {
		return p.index.outside(at, p.node)
	}
	return p.fill(f.blend(), class, metres(f.near[0].d2), 0, site)
}

// blend weights the nodes found by the inverse square of their distance. Chords
// stand for distances: at 100 km they differ by 1e-5.
func (f *found) blend() blend {
	if f.near[0].d2 < atNode {
		return only(f.near[0].node)
	}
	b := only(f.near[0].node)
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

// atNode is the squared chord of 1 mm, within which a place is the node itself.
const atNode = (1e-3 / orb.EarthRadius) * (1e-3 / orb.EarthRadius)

// extent returns the bound of the places, east of their widest gap.
func extent(places []orb.Point) orb.Bound {
	lons := make([]float64, len(places))
	for i, p := range places {
		lons[i] = p[0]
	}
	west := westmost(lons)
	b := orb.Bound{Min: orb.Point{west, 90}, Max: orb.Point{west, -90}}
	for _, p := range places {
		b.Max[0] = max(b.Max[0], west+east(west, p[0]))
		b.Min[1], b.Max[1] = min(b.Min[1], p[1]), max(b.Max[1], p[1])
	}
	return b
}
