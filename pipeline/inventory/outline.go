package inventory

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geo"
	"github.com/paulmach/orb/planar"

	"plinth/pipeline/inventory/outline"
)

// outline takes values from the geometry of a row if its cells do not give them. A point gives the
// place. An outline gives the place of its centroid, the footprint, and the length and width of the
// smallest rectangle around its largest part.
//
// Areas are on the sphere of package geo, whose radius is the equatorial 6378137
// m; that is up to 0.7 % too large. Lengths use the local scale of the sphere.
func (w *row) outline(g orb.Geometry) {
	if w.m.swap && g != nil {
		g = outline.Exchanged(g)
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
			length, width := outline.Sides(g)
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

// inside flags a place outside the outline. It is the point of another building, or the centroid of an
// L or a ring.
func (w *row) inside(g orb.MultiPolygon) {
	if w.known(Lon) && w.known(Lat) && !planar.MultiPolygonContains(g, orb.Point{w.num[Lon], w.num[Lat]}) {
		w.noteField(OutsideOutline, Lon, "")
	}
}

// measure sets a field to a value measured on an outline, if that is in the field's range.
func (w *row) measure(f Field, x float64) {
	if !w.known(f) && f.Spec().holds(x) {
		w.num[f] = x
		w.set(f, Derived, byOutline)
		w.b.given[f]++
	}
}

// beside sets the gap to the distance from the nearest outline of the register, if no column gives the
// gap.
func (w *row) beside() {
	if w.r.stock == nil || w.m.of[Gap] >= 0 {
		return
	}
	gap, touching := w.r.stock.gaps.At(w.line)
	w.touching = touching
	if !math.IsNaN(gap) {
		w.num[Gap] = gap
		w.set(Gap, Derived, byNeighbour)
		w.b.given[Gap]++
	}
}
