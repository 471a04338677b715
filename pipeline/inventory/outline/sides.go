package outline

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// Exchanged returns a copy of g with longitude and latitude exchanged.
func Exchanged(g orb.Geometry) orb.Geometry {
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

// Sides returns the longer and the shorter side in m of the smallest rectangle around
// the largest part of an outline. A side of that rectangle lies along an edge of the
// ring's convex hull (Freeman and Shapira 1975). Every edge of the ring is tried. That
// finds the rectangle where the hull has an edge of the ring, as the outlines of
// buildings do, and comes close elsewhere. Of a ring of many points some edges are tried.
func Sides(g orb.MultiPolygon) (length, width float64) {
	ring := largest(g)
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
