package outline

import (
	"math"

	"github.com/paulmach/orb"
)

// Limits of the look at neighbours (judgement).
const (
	Reach       = 20.0 // m, neighbours farther off are not looked for
	gapTouch    = 0.05 // m, outlines closer than that touch: they are drawn no better
	widestRing  = 2000 // m, a wider outline is no building's
	mostCorners = 256  // of an outline; of more some are taken
	mostNearby  = 4096 // outlines looked at around one

	perDegree = orb.EarthRadius * math.Pi / 180 // m of a degree of latitude
)

// Gaps are the clear distances between the outlines of a register, by the number
// of the row.
type Gaps struct {
	distance []float32 // m; NaN where no outline is within reach
	touching []uint8
}

// At returns the distance of a row to its nearest neighbour, NaN for none, and the
// number of outlines that touch it, -1 where its own was not measured.
func (g *Gaps) At(line int) (distance float64, touching int) {
	if g == nil || line >= len(g.distance) || g.touching[line] == unmeasured {
		return math.NaN(), -1
	}
	return float64(g.distance[line]), int(g.touching[line])
}

const unmeasured = math.MaxUint8

// Rings collects the outer rings of a register's geometries. A corner takes 8
// bytes, as degrees from the middle of its ring (to some micrometres), a ring
// 80 more, and 16 for each cell of the index it lies in, one to four as a rule.
type Rings struct {
	rings   []outlineRing
	corners [][2]float32
	lines   int // the last
}

type outlineRing struct {
	line       int
	middle     orb.Point
	half       orb.Point // half its sides, degrees
	start, end int       // of its corners
}

// Add takes the outlines of a row.
func (o *Rings) Add(line int, g orb.Geometry) {
	o.lines = max(o.lines, line)
	many, ok := g.(orb.MultiPolygon)
	if !ok {
		return
	}
	for _, p := range many {
		if len(p) == 0 || len(p[0]) < 4 {
			continue
		}
		ring := p[0]
		box := ring.Bound()
		r := outlineRing{line: line, middle: box.Center(), start: len(o.corners)}
		r.half = orb.Point{(box.Max[0] - box.Min[0]) / 2, (box.Max[1] - box.Min[1]) / 2}
		onEarth := math.Abs(r.middle[1]) < 89 && math.Abs(r.middle[0]) <= 180
		if !onEarth || !(2*r.half[0]*r.scale()[0] < widestRing && 2*r.half[1]*perDegree < widestRing) {
			continue
		}
		for i := 0; i < len(ring); i += 1 + len(ring)/mostCorners {
			east, north := ring[i][0]-r.middle[0], ring[i][1]-r.middle[1]
			o.corners = append(o.corners, [2]float32{float32(east), float32(north)})
		}
		r.end = len(o.corners)
		o.rings = append(o.rings, r)
	}
}

// scale returns the metres of a degree of longitude and latitude.
func (r *outlineRing) scale() orb.Point {
	return orb.Point{perDegree * math.Cos(r.middle[1]*math.Pi/180), perDegree}
}

// Measure returns the distances of all rows.
func (o *Rings) Measure() *Gaps {
	if len(o.rings) == 0 {
		return nil
	}
	g := &Gaps{make([]float32, o.lines+1), make([]uint8, o.lines+1)}
	for i := range g.distance {
		g.distance[i], g.touching[i] = float32(math.NaN()), unmeasured
	}
	x := o.index()
	near := make(map[int]float64) // distance by the row of the neighbour
	for i := 0; i < len(o.rings); {
		line := o.rings[i].line
		clear(near)
		for ; i < len(o.rings) && o.rings[i].line == line; i++ {
			o.neighbours(i, x, near)
		}
		least, touching := math.NaN(), 0
		for _, d := range near {
			if d < gapTouch {
				d = 0
				touching++
			}
			if !(d >= least) {
				least = d
			}
		}
		g.distance[line], g.touching[line] = float32(least), uint8(min(touching, unmeasured-1))
	}
	return g
}
