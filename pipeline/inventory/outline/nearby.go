package outline

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"github.com/paulmach/orb"
)

// An outlineIndex lists rings by the cells of a grid they lie in, sorted.
type outlineIndex []cellEntry

type cellEntry struct {
	cell int64
	ring int
}

// Sides of a cell in degrees: the reach along a meridian; along a parallel four
// times as much, since its degrees shrink towards the poles.
const (
	cellLat = Reach / perDegree
	cellLon = 4 * cellLat
)

// cells calls f for the cells of a ring widened by a margin in m.
func (r *outlineRing) cells(margin float64, f func(cell int64)) {
	k := r.scale()
	dx, dy := r.half[0]+margin/k[0], r.half[1]+margin/k[1]
	column := func(x float64) int64 { return int64(math.Floor((x + 360) / cellLon)) }
	line := func(y float64) int64 { return int64(math.Floor((y + 180) / cellLat)) }
	for i := column(r.middle[0] - dx); i <= column(r.middle[0]+dx); i++ {
		for j := line(r.middle[1] - dy); j <= line(r.middle[1]+dy); j++ {
			f(i<<32 | j)
		}
	}
}

func (o *Rings) index() outlineIndex {
	var x outlineIndex
	for i := range o.rings {
		o.rings[i].cells(0, func(cell int64) { x = append(x, cellEntry{cell, i}) })
	}
	slices.SortFunc(x, func(a, b cellEntry) int {
		return cmp.Or(cmp.Compare(a.cell, b.cell), cmp.Compare(a.ring, b.ring))
	})
	return x
}

// neighbours enters into near, by row, the distance from ring i to the rings of
// other rows within reach. A ring with the same corners is the same building
// entered twice, and no neighbour.
func (o *Rings) neighbours(i int, x outlineIndex, near map[int]float64) {
	r := &o.rings[i]
	seen := 0
	r.cells(Reach, func(cell int64) {
		at := sort.Search(len(x), func(k int) bool { return x[k].cell >= cell })
		for ; at < len(x) && x[at].cell == cell && seen < mostNearby; at++ {
			q := &o.rings[x[at].ring]
			if q.line == r.line {
				continue
			}
			seen++
			best, ok := near[q.line]
			if !ok {
				best = Reach
			}
			if r.apart(q) > best || o.same(r, q) {
				continue
			}
			if d := o.distance(r, q, best); d < best {
				near[q.line] = d
			}
		}
	})
}

// apart returns the distance of the boxes around two rings in m.
func (r *outlineRing) apart(q *outlineRing) float64 {
	k := r.scale()
	x := math.Max(0, math.Abs(r.middle[0]-q.middle[0])-r.half[0]-q.half[0]) * k[0]
	y := math.Max(0, math.Abs(r.middle[1]-q.middle[1])-r.half[1]-q.half[1]) * k[1]
	return math.Hypot(x, y)
}

func (o *Rings) same(r, q *outlineRing) bool {
	return r.middle == q.middle && slices.Equal(o.corners[r.start:r.end], o.corners[q.start:q.end])
}

// distance returns the least distance in m between two rings, 0 if they overlap,
// or best if it is not less.
func (o *Rings) distance(r, q *outlineRing, best float64) float64 {
	a, b := o.plane(r, r), o.plane(q, r)
	if inRing(a[0], b) || inRing(b[0], a) {
		return 0
	}
	ba := a.Bound()
	for j := range b {
		v, w := b[j], b[(j+1)%len(b)]
		if beyond(ba.Min, ba.Max, v, w, best) {
			continue
		}
		for i := range a {
			p, u := a[i], a[(i+1)%len(a)]
			if beyond(p, u, v, w, best) {
				continue
			}
			if crossing(p, u, v, w) {
				return 0
			}
			best = min(best, toSegment(p, v, w), toSegment(v, p, u))
		}
	}
	return best
}

// beyond reports whether the boxes around two segments are farther apart than d
// along an axis.
func beyond(a, b, c, e orb.Point, d float64) bool {
	for k := range a {
		if min(a[k], b[k])-max(c[k], e[k]) > d || min(c[k], e[k])-max(a[k], b[k]) > d {
			return true
		}
	}
	return false
}

// plane returns the corners of q in m from the middle of r, on the plane that
// touches the sphere there.
func (o *Rings) plane(q, r *outlineRing) orb.Ring {
	k := r.scale()
	dx, dy := q.middle[0]-r.middle[0], q.middle[1]-r.middle[1]
	out := make(orb.Ring, 0, q.end-q.start)
	for _, c := range o.corners[q.start:q.end] {
		out = append(out, orb.Point{(dx + float64(c[0])) * k[0], (dy + float64(c[1])) * k[1]})
	}
	return out
}

// inRing reports whether p is inside a ring: a ray from it crosses an odd number
// of edges.
func inRing(p orb.Point, ring orb.Ring) bool {
	in := false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0]+(p[1]-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
			in = !in
		}
	}
	return in
}

// crossing reports whether two segments cross in their insides.
func crossing(a, b, c, d orb.Point) bool {
	return turn(a, b, c)*turn(a, b, d) < 0 && turn(c, d, a)*turn(c, d, b) < 0
}

// turn returns twice the area of a triangle, positive if it turns left.
func turn(a, b, c orb.Point) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

// toSegment returns the distance from p to the segment from a to b.
func toSegment(p, a, b orb.Point) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = math.Max(0, math.Min(1, ((p[0]-a[0])*dx+(p[1]-a[1])*dy)/l))
	}
	return math.Hypot(p[0]-a[0]-t*dx, p[1]-a[1]-t*dy)
}
