package field

import (
	"io"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geo"

	"plinth/hazard"
)

// Zones is a field of areas with one set of spectra each, and of nodes for places between them.
// A place takes the first area of the file that contains it, boundaries included. Outside all
// areas it takes the nearest node or, in a file without nodes, the nearest area, within
// Options.MaxDistance. Site.Status is then NearestNode, and Site.Distance the distance.
type Zones struct {
	slab
	areas    areas
	node     []orb.Point
	of       []int  // feature of each node
	index    *index // of the nodes, nil without
	reach    float64
	coverage Coverage
}

// ReadZones reads areas and nodes from a GeoJSON FeatureCollection: features of
// Polygon, MultiPolygon or Point geometry with the properties
//
//	name    for problems (optional)
//	hazard  an array with an object for each return period, whose members are
//	        named as the columns of ReadGrid: return_period_yr, pga, sa_0.2, ...
//
//	{"type": "Feature", "geometry": {...}, "properties": {"name": "Harbour",
//	 "hazard": [{"return_period_yr": 475, "pga": 0.2, "sa_0.2": 0.5, "sa_1": 0.2}]}}
//
// All features need the same return periods and periods. A crs member, which the
// GeoJSON of 2008 had, is accepted if it names WGS 84.
func ReadZones(r io.Reader, file string, o Options) (*Zones, error) {
	var ps Problems
	o.check(file, &ps)
	o.checkDegrees(file, "areas", &ps)
	if err := ps.err(); err != nil {
		return nil, err
	}
	data, err := io.ReadAll(r)
	if err != nil {
		ps.add(Problem{File: file, Rule: err.Error(), Remedy: "mend the file"})
		return nil, ps.err()
	}
	features := readFeatures(data, file, &ps)
	if len(features) == 0 && ps.err() == nil {
		ps.add(Problem{File: file, Column: "features", Rule: "there are none", Remedy: "give at least one"})
	}
	if err := ps.err(); err != nil {
		return nil, err
	}
	z := &zoneReader{file: file, unit: o.Unit, ps: &ps}
	t := z.read(features)
	if err := ps.err(); err != nil {
		return nil, err
	}
	if o.checkSoil(file, t.periods, &ps); ps.err() != nil {
		return nil, ps.err()
	}
	z.areas.sort()
	z.areas.overlaps(z.called, &t.notes)
	f := &Zones{slab: t.slab(o), areas: z.areas, node: z.node, of: z.of, reach: o.MaxDistance}
	if len(f.node) > 0 {
		f.index = newIndex(f.node)
	}
	f.coverage = newCoverage(t, nil)
	f.coverage.Bound = f.extent()
	return f, nil
}

// extent returns the bound of areas and nodes.
func (z *Zones) extent() orb.Bound {
	var all orb.MultiPoint
	for _, a := range z.areas.list {
		all = append(all, a.bound.Min, a.bound.Max)
	}
	return append(all, z.node...).Bound()
}

// Bound returns the extent of the areas and nodes.
func (z *Zones) Bound() orb.Bound { return z.coverage.Bound }

// Coverage describes the features.
func (z *Zones) Coverage() Coverage { return z.coverage }

// Lookup fills site for a place.
func (z *Zones) Lookup(lon, lat float64, class hazard.SiteClass, site *hazard.Site) error {
	lon, ok := place(lon, lat)
	if !ok {
		return nowhere(lon, lat)
	}
	at := orb.Point{lon, lat}
	if i := z.areas.holding(at); i >= 0 {
		return z.fill(only(z.areas.list[i].feature), class, 0, 0, site)
	}
	nearest, feature, distance := z.nearest(at)
	if distance > z.reach {
		return &OutsideError{Lon: lon, Lat: lat, Nearest: nearest, DistanceM: distance}
	}
	return z.fill(only(feature), class, distance, hazard.NearestNode, site)
}

// nearest returns the node nearest to a place or, without nodes, the nearest
// point of a boundary, with its feature and distance in m.
func (z *Zones) nearest(at orb.Point) (orb.Point, int, float64) {
	if z.index != nil {
		n, d := z.index.one(at, math.Inf(1))
		return z.node[n], z.of[n], d
	}
	best, feature, distance := orb.Point{}, 0, math.Inf(1)
	for i := range z.areas.list {
		a := &z.areas.list[i]
		for _, ring := range a.polygon {
			for k := 1; k < len(ring); k++ {
				p := closest(ring[k-1], ring[k], at)
				if d := geo.DistanceHaversine(p, at); d < distance {
					best, feature, distance = p, a.feature, d
				}
			}
		}
	}
	return best, feature, distance
}

// closest returns the point of the edge from a to b closest to p, in a plane
// where degrees of longitude are as short as at p.
func closest(a, b, p orb.Point) orb.Point {
	short := math.Cos(p[1] * math.Pi / 180)
	turn := math.Round((a[0]-p[0])/360) * 360 // the edge on the other side of the antimeridian
	a[0], b[0] = a[0]-turn, b[0]-turn
	dx, dy := (b[0]-a[0])*short, b[1]-a[1]
	w := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		w = min(1, max(0, ((p[0]-a[0])*short*dx+(p[1]-a[1])*dy)/l))
	}
	return orb.Point{a[0] + w*(b[0]-a[0]), a[1] + w*(b[1]-a[1])}
}
