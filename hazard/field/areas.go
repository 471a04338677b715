package field

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// An area is one polygon. It may be written with longitudes above 180.
type area struct {
	polygon orb.Polygon
	bound   orb.Bound
	feature int
}

// areas are polygons in the order of a file, with a grid of cells that lists the candidates for
// a place.
type areas struct {
	list  []area
	bound orb.Bound
	side  int       // cells along each side of bound
	cell  [][]int32 // areas whose bounds touch the cell, in the order of the file
}

// sort fills the grid: about one cell for each polygon, at most 256 along a side.
func (a *areas) sort() {
	if len(a.list) == 0 {
		return
	}
	a.bound = a.list[0].bound
	for _, x := range a.list[1:] {
		a.bound = a.bound.Union(x.bound)
	}
	a.side = min(256, 1+int(math.Sqrt(float64(len(a.list)))))
	a.cell = make([][]int32, a.side*a.side)
	for i, x := range a.list {
		x0, y0 := a.at(x.bound.Min)
		x1, y1 := a.at(x.bound.Max)
		for y := y0; y <= y1; y++ {
			for x := x0; x <= x1; x++ {
				a.cell[y*a.side+x] = append(a.cell[y*a.side+x], int32(i))
			}
		}
	}
}

// at returns the cell of a place within the bound.
func (a *areas) at(p orb.Point) (x, y int) {
	of := func(v, low, high float64) int {
		if high <= low {
			return 0
		}
		return min(a.side-1, int((v-low)/(high-low)*float64(a.side)))
	}
	return of(p[0], a.bound.Min[0], a.bound.Max[0]), of(p[1], a.bound.Min[1], a.bound.Max[1])
}

// holding returns the first area that contains the place, boundaries included; -1 if none does.
func (a *areas) holding(p orb.Point) int {
	first := a.first(p)
	p[0] += 360
	if other := a.first(p); other >= 0 && (first < 0 || other < first) {
		return other
	}
	return first
}

func (a *areas) first(p orb.Point) int {
	if len(a.list) == 0 || !a.bound.Contains(p) {
		return -1
	}
	x, y := a.at(p)
	for _, i := range a.cell[y*a.side+x] {
		if x := &a.list[i]; x.bound.Contains(p) && planar.PolygonContains(x.polygon, p) {
			return int(i)
		}
	}
	return -1
}

// maxOverlaps is the number of overlaps that are listed.
const maxOverlaps = 5

// overlaps adds a note for each pair of areas of different features that share more than a
// boundary. There a place takes the first area of the file.
func (a *areas) overlaps(names []string, n *notes) {
	found := 0
	for i := range a.list {
		x0, y0 := a.at(a.list[i].bound.Min)
		x1, y1 := a.at(a.list[i].bound.Max)
		seen := map[int32]bool{}
		for y := y0; y <= y1; y++ {
			for x := x0; x <= x1; x++ {
				for _, j := range a.cell[y*a.side+x] {
					if int(j) <= i || seen[j] || a.list[i].feature == a.list[j].feature {
						continue
					}
					seen[j] = true
					if a.list[i].overlaps(&a.list[j]) {
						if found++; found <= maxOverlaps {
							n.add("%s and %s overlap: a place in both takes the first",
								names[a.list[i].feature], names[a.list[j].feature])
						}
					}
				}
			}
		}
	}
	if found > maxOverlaps {
		n.add("and %d more overlaps of areas", found-maxOverlaps)
	}
}

// overlaps reports whether two areas share more than their boundaries: an edge of
// one crosses one of the other between their ends, or a point inside one lies
// inside the other.
func (a *area) overlaps(b *area) bool {
	if !a.bound.Intersects(b.bound) {
		return false
	}
	for _, r := range a.polygon {
		for i := 1; i < len(r); i++ {
			edge := orb.MultiPoint{r[i-1], r[i]}.Bound()
			if !edge.Intersects(b.bound) {
				continue
			}
			for _, q := range b.polygon {
				for j := 1; j < len(q); j++ {
					if crosses(r[i-1], r[i], q[j-1], q[j]) {
						return true
					}
				}
			}
		}
	}
	inside := func(a, b *area) bool {
		p, ok := a.inner()
		return ok && b.bound.Contains(p) && planar.PolygonContains(b.polygon, p)
	}
	return inside(a, b) || inside(b, a)
}

// ends is the share of an edge at each end where a crossing counts as a shared corner, since
// corners are rounded.
const ends = 1e-6

// crosses reports whether the edges a-b and c-d cross between their ends.
func crosses(a, b, c, d orb.Point) bool {
	ux, uy, vx, vy := b[0]-a[0], b[1]-a[1], d[0]-c[0], d[1]-c[1]
	det := ux*vy - uy*vx
	if math.Abs(det) <= ends*(math.Hypot(ux, uy)*math.Hypot(vx, vy)) {
		return false // parallel
	}
	wx, wy := c[0]-a[0], c[1]-a[1]
	s, t := (wx*vy-wy*vx)/det, (wx*uy-wy*ux)/det
	return s > ends && s < 1-ends && t > ends && t < 1-ends
}

// inner returns a point inside the polygon, away from its boundary: the middle of
// the widest span of a line of latitude between two of its corners.
func (a *area) inner() (orb.Point, bool) {
	ring := a.polygon[0]
	low, high := a.bound.Min[1], math.Inf(1)
	for _, p := range ring {
		if p[1] > low {
			high = min(high, p[1])
		}
	}
	y := (low + high) / 2
	best, width := orb.Point{}, 0.0
	var xs []float64
	for _, r := range a.polygon {
		for i := 1; i < len(r); i++ {
			p, q := r[i-1], r[i]
			if (p[1] > y) != (q[1] > y) {
				xs = append(xs, p[0]+(y-p[1])/(q[1]-p[1])*(q[0]-p[0]))
			}
		}
	}
	for _, x := range xs {
		next := math.Inf(1)
		for _, z := range xs {
			if z > x {
				next = min(next, z)
			}
		}
		mid := orb.Point{(x + next) / 2, y}
		if next-x > width && !math.IsInf(next, 1) && planar.PolygonContains(a.polygon, mid) {
			best, width = mid, next-x
		}
	}
	return best, width > 0
}
