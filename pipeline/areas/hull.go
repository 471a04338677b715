package areas

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A hull collects points and keeps the corners of their convex hull.
type hull struct{ points []orb.Point }

// mostPoints are kept before they are reduced to corners (judgement: 64 kB).
const mostPoints = 4096

func (h *hull) add(p orb.Point) {
	if h.points = append(h.points, p); len(h.points) >= mostPoints {
		if corners := corners(h.points); len(corners) < mostPoints/2 {
			h.points = corners
		}
	}
}

// margin is added round points that are on one line, so that they have an outline (judgement): 10 m.
const margin = 10 / orb.EarthRadius * 180 / math.Pi

// outline returns the convex hull as a ring against the clock, and nil without points. Of points on one
// line, or on one place, it returns their box and a margin round it.
func (h *hull) outline() orb.Polygon {
	if len(h.points) == 0 {
		return nil
	}
	ring := corners(h.points)
	if len(ring) < 3 {
		b := orb.MultiPoint(ring).Bound()
		across := margin / math.Max(math.Cos(b.Center().Lat()*math.Pi/180), 0.01)
		b.Min = orb.Point{b.Min[0] - across, b.Min[1] - margin}
		b.Max = orb.Point{b.Max[0] + across, b.Max[1] + margin}
		return b.ToPolygon()
	}
	return orb.Polygon{append(orb.Ring(ring), ring[0])}
}

// corners returns the corners of the convex hull of points against the clock, by the monotone chain (A.
// M. Andrew, "Another efficient algorithm for convex hulls in two dimensions", Information Processing
// Letters 9, 1979; from memory). It takes points in the plane of degrees, as a map shows them. It
// sorts points.
func corners(points []orb.Point) []orb.Point {
	slices.SortFunc(points, func(a, b orb.Point) int {
		return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1]))
	})
	points = slices.Compact(points)
	if len(points) < 3 {
		return slices.Clone(points)
	}
	half := func(out []orb.Point, p orb.Point) []orb.Point {
		for n := len(out); n > 1 && turn(out[n-2], out[n-1], p) <= 0; n-- {
			out = out[:n-1]
		}
		return append(out, p)
	}
	var lower, upper []orb.Point
	for i := range points {
		lower = half(lower, points[i])
		upper = half(upper, points[len(points)-1-i])
	}
	return append(lower[:len(lower)-1], upper[:len(upper)-1]...)
}

// turn is twice the area of the triangle a, b, c: above 0 where it goes against the clock.
func turn(a, b, c orb.Point) float64 { return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0]) }
