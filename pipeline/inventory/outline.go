package inventory

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geo"
	"github.com/paulmach/orb/planar"
)

// outline takes from a geometry what the row's cells do not say: a point gives
// the place; an outline gives the place of its centroid, the footprint, and the
// length and width of the smallest rectangle around its largest part.
//
// Areas are on the sphere of package geo, whose radius is the equatorial 6378137
// m; that is up to 0.7 % too large. Lengths use the local scale of the sphere.
func (w *row) outline(g orb.Geometry) {
	if w.m.swap && g != nil {
		g = exchanged(g)
	}
	switch g := g.(type) {
	case orb.Point:
		w.place(g, Given, byColumn)
	case orb.MultiPolygon:
		centroid, area := planar.CentroidArea(g)
		if !(area > 0) || math.IsInf(area, 0) {
			return // a line or nothing
		}
		w.place(centroid, Derived, byOutline)
		if math.Abs(centroid[1]) > 90 {
			return // no place to measure at
		}
		w.inside(g)
		w.measure(Footprint, geo.Area(g)/float64(w.share.of))
		if w.share.of == 1 { // of a part only the whole's outline is known
			length, width := sides(largest(g))
			w.measure(Length, length)
			w.measure(Width, width)
		}
	}
}

// place sets the place where no column gives it.
func (w *row) place(p orb.Point, o Origin, way Way) {
	if w.m.of[Lon] >= 0 || w.m.of[Lat] >= 0 || math.IsNaN(p[0]+p[1]) {
		return
	}
	w.drawn = true
	w.num[Lon], w.num[Lat] = p[0], p[1]
	for _, f := range [...]Field{Lon, Lat} {
		w.set(f, o, way)
		w.b.given[f]++
	}
}

// inside notes a place that is not in the outline: a point of another building,
// or the centroid of an L or a ring.
func (w *row) inside(g orb.MultiPolygon) {
	if w.known(Lon) && w.known(Lat) && !planar.MultiPolygonContains(g, orb.Point{w.num[Lon], w.num[Lat]}) {
		w.noteField(OutsideOutline, Lon, "")
	}
}

// measure sets a field that was measured on an outline, if it can be believed.
func (w *row) measure(f Field, x float64) {
	if !w.known(f) && f.Spec().holds(x) {
		w.num[f] = x
		w.set(f, Derived, byOutline)
		w.b.given[f]++
	}
}

// beside takes the gap to the nearest outline of the register, where no column
// gives one.
func (w *row) beside() {
	if w.r.stock == nil || w.m.of[Gap] >= 0 {
		return
	}
	gap, touching := w.r.stock.gaps.at(w.line)
	w.touching = touching
	if !math.IsNaN(gap) {
		w.num[Gap] = gap
		w.set(Gap, Derived, byNeighbour)
		w.b.given[Gap]++
	}
}

// exchanged returns a copy of g with longitude and latitude exchanged.
func exchanged(g orb.Geometry) orb.Geometry {
	switch g := orb.Clone(g).(type) {
	case orb.Point:
		return orb.Point{g[1], g[0]}
	case orb.MultiPolygon:
		for _, polygon := range g {
			for _, ring := range polygon {
				for i, p := range ring {
					ring[i] = orb.Point{p[1], p[0]}
				}
			}
		}
		return g
	}
	return g
}

// largest returns the outer ring of the part with the largest area.
func largest(g orb.MultiPolygon) orb.Ring {
	var best orb.Ring
	most := -1.0
	for _, p := range g {
		if len(p) == 0 {
			continue
		}
		if a := math.Abs(planar.Area(p)); a > most {
			best, most = p[0], a
		}
	}
	return best
}

// mostEdges is about the number of edges tried of a ring, to bound the time.
const mostEdges = 500

// sides returns the longer and shorter side in m of the smallest rectangle around
// a ring. Its side lies along an edge of the ring's convex hull (Freeman and
// Shapira 1975); every edge of the ring is tried, which finds it where the hull
// has an edge of the ring, as outlines of buildings do, and is close elsewhere. Of
// a ring of many points some edges are tried.
func sides(ring orb.Ring) (length, width float64) {
	if len(ring) < 3 {
		return math.NaN(), math.NaN()
	}
	kx, ky := perDegree*math.Cos(ring[0][1]*math.Pi/180), perDegree
	smallest := math.Inf(1)
	for i := 0; i < len(ring); i += 1 + len(ring)/mostEdges {
		j := (i + 1) % len(ring)
		dx, dy := (ring[j][0]-ring[i][0])*kx, (ring[j][1]-ring[i][1])*ky
		edge := math.Hypot(dx, dy)
		if edge == 0 {
			continue
		}
		c, s := dx/edge, dy/edge
		alongMin, alongMax, acrossMin, acrossMax := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
		for _, p := range ring {
			x, y := (p[0]-ring[0][0])*kx, (p[1]-ring[0][1])*ky
			along, across := x*c+y*s, y*c-x*s
			alongMin, alongMax = math.Min(alongMin, along), math.Max(alongMax, along)
			acrossMin, acrossMax = math.Min(acrossMin, across), math.Max(acrossMax, across)
		}
		a, b := alongMax-alongMin, acrossMax-acrossMin
		if a*b < smallest {
			smallest, length, width = a*b, math.Max(a, b), math.Min(a, b)
		}
	}
	return length, width
}
