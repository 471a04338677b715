package field

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// index finds the nodes nearest to a place. It is a k-d tree (Bentley 1975, Communications of
// the ACM 18(9):509) over the nodes as points of the unit sphere, laid out in one slice: the
// middle of a range is its root, the halves are its branches.
//
// Chords order places as great circles do, so the nearest by chord is the nearest on the
// ground, across the antimeridian and at the poles too. Ties go to the lower node number, so
// that the answer does not depend on the shape of the tree.
type index struct {
	leaf []leaf
}

type leaf struct {
	at   [3]float64 // on the unit sphere
	node int32
}

// A near is a node at a squared chord on the unit sphere.
type near struct {
	node int
	d2   float64
}

// before orders by distance, then by node.
func (a near) before(b near) bool { return a.d2 < b.d2 || a.d2 == b.d2 && a.node < b.node }

// newIndex returns the index of the places.
func newIndex(places []orb.Point) *index {
	x := &index{leaf: make([]leaf, len(places))}
	for i, p := range places {
		x.leaf[i] = leaf{sphere(p), int32(i)}
	}
	split(x.leaf, 0)
	return x
}

// split orders s as a tree that splits along axis first.
func split(s []leaf, axis int) {
	if len(s) < 2 {
		return
	}
	slices.SortFunc(s, func(a, b leaf) int {
		if a.at[axis] != b.at[axis] {
			return sign(a.at[axis] - b.at[axis])
		}
		return int(a.node) - int(b.node)
	})
	mid, next := len(s)/2, (axis+1)%3
	split(s[:mid], next)
	split(s[mid+1:], next)
}

func sign(v float64) int {
	if v < 0 {
		return -1
	}
	return 1
}

// A found is the nearest nodes so far, nearest first.
type found struct {
	near [4]near
	n    int // found
	k    int // wanted, at most 4
	from [3]float64
	d2   float64 // no farther than this
}

// nearest returns up to k <= 4 nodes nearest to p within reach in m.
func (x *index) nearest(p orb.Point, k int, reach float64) found {
	f := found{k: k, from: sphere(p), d2: chord2(reach)}
	x.search(x.leaf, 0, &f)
	return f
}

func (x *index) search(s []leaf, axis int, f *found) {
	if len(s) == 0 {
		return
	}
	mid, next := len(s)/2, (axis+1)%3
	m := &s[mid]
	dx, dy, dz := f.from[0]-m.at[0], f.from[1]-m.at[1], f.from[2]-m.at[2]
	f.keep(near{int(m.node), dx*dx + dy*dy + dz*dz})
	near, far := s[:mid], s[mid+1:]
	d := f.from[axis] - m.at[axis]
	if d > 0 {
		near, far = far, near
	}
	x.search(near, next, f)
	if d*d <= f.d2 {
		x.search(far, next, f)
	}
}

// keep inserts c into its place among the nearest.
func (f *found) keep(c near) {
	if c.d2 > f.d2 || f.n == f.k && !c.before(f.near[f.n-1]) {
		return
	}
	if f.n < f.k {
		f.n++
	}
	i := f.n - 1
	for ; i > 0 && c.before(f.near[i-1]); i-- {
		f.near[i] = f.near[i-1]
	}
	f.near[i] = c
	if f.n == f.k {
		f.d2 = f.near[f.n-1].d2
	}
}

// sphere returns the place on the unit sphere.
func sphere(p orb.Point) [3]float64 {
	sinLon, cosLon := math.Sincos(p[0] * math.Pi / 180)
	sinLat, cosLat := math.Sincos(p[1] * math.Pi / 180)
	return [3]float64{cosLat * cosLon, cosLat * sinLon, sinLat}
}

// chord2 returns the squared chord on the unit sphere of m metres on the ground.
func chord2(m float64) float64 {
	half := min(m/orb.EarthRadius/2, math.Pi/2)
	c := 2 * math.Sin(half)
	return c * c
}

// metres returns the distance on the ground of a squared chord.
func metres(d2 float64) float64 {
	return 2 * orb.EarthRadius * math.Asin(min(1, math.Sqrt(d2)/2))
}

// one returns the node nearest to p within reach in m and its distance; -1 if none is in reach.
func (x *index) one(p orb.Point, reach float64) (int, float64) {
	f := x.nearest(p, 1, reach)
	if f.n == 0 {
		return -1, math.Inf(1)
	}
	return f.near[0].node, metres(f.near[0].d2)
}

// outside returns the error of a place out of reach.
func (x *index) outside(p orb.Point, node []orb.Point) error {
	n, d := x.one(p, math.Inf(1))
	return &OutsideError{Lon: p[0], Lat: p[1], Nearest: node[n], DistanceM: d}
}
