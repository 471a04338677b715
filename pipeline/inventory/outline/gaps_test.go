package outline

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// box is a rectangle of w by h m whose lower left corner is x, y m from a place.
func box(at orb.Point, x, y, w, h float64) orb.MultiPolygon {
	kx, ky := perDegree*math.Cos(at[1]*math.Pi/180), perDegree
	p := func(x, y float64) orb.Point { return orb.Point{at[0] + x/kx, at[1] + y/ky} }
	return orb.MultiPolygon{{{p(x, y), p(x+w, y), p(x+w, y+h), p(x, y+h), p(x, y)}}}
}

// Distances of rectangles are known by construction. They are a kilometre from
// where the scale of longitude is taken, over which it changes by 1e-4.
func TestGapsOfRectangles(t *testing.T) {
	for _, at := range []orb.Point{{-150, 40}, {25, 64}, {0, 0}, {170.5, -45.9}} {
		o := &Rings{}
		for line, g := range []orb.MultiPolygon{
			1:  box(at, 0, 0, 30, 10),
			2:  box(at, 31.5, 0, 20, 10),                                     // 1.5 m off
			3:  box(at, 51.5, 2, 10, 3),                                      // touches 2
			4:  box(at, 3, 14, 5, 5),                                         // 4 m above 1
			5:  box(at, 64.5, 9, 10, 10),                                     // 3 by 4 m off the corner of 3
			6:  box(at, 300, 0, 100, 100),                                    // alone, but
			7:  box(at, 320, 20, 10, 10),                                     // inside 6
			8:  box(at, 900, 0, 10, 10),                                      // alone
			9:  box(at, 900+10+25, 0, 10, 10),                                // out of reach
			10: box(at, -100, -100, 3000, 3000),                              // no building
			11: append(box(at, 0, 200, 10, 10), box(at, 10, 200, 10, 10)...), // its own parts touch
		} {
			if line > 0 {
				o.Add(line, g)
			}
		}
		g := o.Measure()
		nan := math.NaN()
		for line, want := range []struct {
			gap      float64
			touching int
		}{1: {1.5, 0}, 2: {0, 1}, 3: {0, 1}, 4: {4, 0}, 5: {5, 0}, 6: {0, 1}, 7: {0, 1}, 8: {nan, 0}, 9: {nan, 0}, 10: {nan, -1}, 11: {nan, 0}} {
			if line == 0 {
				continue
			}
			gap, touching := g.At(line)
			assert.Equal(t, want.touching, touching, "row %d at %v", line, at)
			assert.InDelta(t, want.gap, gap, 1e-3*20, "row %d at %v", line, at)
		}
	}
}

// The index finds the neighbours that looking at all finds, in any order.
func TestGapsAgainstAllPairs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		at := orb.Point{20 * r.NormFloat64(), 30 * r.Float64()}
		o := &Rings{}
		for line := range 25 {
			o.Add(line+1, box(at, 200*r.Float64(), 100*r.Float64(), 5+20*r.Float64(), 5+r.Float64()*r.Float64()*60))
		}
		g := o.Measure()
		for i := range o.rings {
			least := math.Inf(1)
			for j := range o.rings {
				if i != j {
					least = min(least, o.distance(&o.rings[i], &o.rings[j], Reach+1))
				}
			}
			gap, _ := g.At(o.rings[i].line)
			switch {
			case least < gapTouch:
				require.Zero(t, gap)
			case least < Reach:
				require.InDelta(t, least, gap, 1e-4)
			default:
				require.True(t, math.IsNaN(gap))
			}
		}
	})
}

// Ten thousand outlines in streets, each beside two others.
func BenchmarkGaps(b *testing.B) {
	const rows = 10000
	at := orb.Point{-150, 40}
	b.ReportAllocs()
	for b.Loop() {
		o := &Rings{}
		for i := range rows {
			o.Add(i+1, box(at, float64(i%100)*13, float64(i/100)*30, 10, 12))
		}
		o.Measure()
	}
	b.ReportMetric(float64(rows*b.N)/b.Elapsed().Seconds(), "rows/s")
}
