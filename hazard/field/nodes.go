package field

import (
	"io"

	"github.com/paulmach/orb"

	"plinth/hazard"
)

// Layout tells how the nodes of a source are arranged.
type Layout uint8

// The layouts.
const (
	// Regular nodes lie on an even grid of longitude and latitude; some may be missing (the
	// sea). A place is read by bilinear interpolation of ln(Sa) in its cell. In a cell with
	// missing corners, and outside the cells within Options.MaxDistance, it is read from the
	// nearest node, and Site.Status says so.
	Regular Layout = iota

	// Scattered nodes lie anywhere. A place is read from the four nearest within
	// Options.MaxDistance, ln(Sa) weighted by the inverse square of distance.
	Scattered
)

// places are nodes and the way to read between them. The implementations are
// mesh and scatter.
type places interface {
	// locate returns the nodes and weights of a place, the distance in m to the
	// nearest, and an *OutsideError if there is none.
	locate(at orb.Point) (blend, float64, hazard.Status, error)
	bound() orb.Bound
	neighbours(f func(a, b int))
	describe(c *Coverage)
}

// places lays out the nodes of the table.
func (l Layout) places(t *table, reach float64, ps *Problems) places {
	if l == Scattered {
		return newScatter(t, reach)
	}
	return newMesh(t, reach, ps)
}

// Nodes is a field of spectra at nodes.
type Nodes struct {
	slab
	places   places
	coverage Coverage
}

// ReadGrid reads a regular grid of nodes from r: a CSV file in the long form, a
// row for each node and return period, with the columns
//
//	lon, lat          degrees; also longitude, latitude
//	return_period_yr  yr
//	pga               peak ground acceleration; also pga_g, sa_0
//	sa_0.1, ...       5 % damped spectral acceleration, by the period in s
//	kind              what the values are, the same in every row (optional)
//
// in any order of columns and rows. A row without any value is not a node. The name of the file
// appears in problems; the error is a *Problems.
func ReadGrid(r io.Reader, file string, o Options) (*Nodes, error) {
	return readNodes(r, file, Regular, o)
}

// ReadPoints reads scattered nodes from r in the form of ReadGrid.
func ReadPoints(r io.Reader, file string, o Options) (*Nodes, error) {
	return readNodes(r, file, Scattered, o)
}

func readNodes(r io.Reader, file string, layout Layout, o Options) (*Nodes, error) {
	var ps Problems
	o.check(file, &ps)
	if err := ps.err(); err != nil {
		return nil, err
	}
	t := readLong(r, file, o, &ps)
	if err := ps.err(); err != nil {
		return nil, err
	}
	return newNodes(t, layout, o)
}

func newNodes(t *table, layout Layout, o Options) (*Nodes, error) {
	var ps Problems
	o.checkSoil(t.file, t.periods, &ps)
	p := layout.places(t, o.MaxDistance, &ps)
	if err := ps.err(); err != nil {
		return nil, err
	}
	return &Nodes{t.slab(o), p, newCoverage(t, p)}, nil
}

// Bound returns the extent of the nodes.
func (n *Nodes) Bound() orb.Bound { return n.coverage.Bound }

// Coverage describes the nodes.
func (n *Nodes) Coverage() Coverage { return n.coverage }

// Lookup fills site for a place.
func (n *Nodes) Lookup(lon, lat float64, class hazard.SiteClass, site *hazard.Site) error {
	lon, ok := place(lon, lat)
	if !ok {
		return nowhere(lon, lat)
	}
	b, distance, status, err := n.places.locate(orb.Point{lon, lat})
	if err != nil {
		return err
	}
	return n.fill(b, class, distance, status, site)
}
