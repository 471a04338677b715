package inventory

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
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
		o := &outlines{}
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
				o.add(line, g)
			}
		}
		g := o.measure()
		nan := math.NaN()
		for line, want := range []struct {
			gap      float64
			touching int
		}{1: {1.5, 0}, 2: {0, 1}, 3: {0, 1}, 4: {4, 0}, 5: {5, 0}, 6: {0, 1}, 7: {0, 1}, 8: {nan, 0}, 9: {nan, 0}, 10: {nan, -1}, 11: {nan, 0}} {
			if line == 0 {
				continue
			}
			gap, touching := g.at(line)
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
		o := &outlines{}
		for line := range 25 {
			o.add(line+1, box(at, 200*r.Float64(), 100*r.Float64(), 5+20*r.Float64(), 5+r.Float64()*r.Float64()*60))
		}
		g := o.measure()
		for i := range o.rings {
			least := math.Inf(1)
			for j := range o.rings {
				if i != j {
					least = min(least, o.distance(&o.rings[i], &o.rings[j], gapReach+1))
				}
			}
			gap, _ := g.at(o.rings[i].line)
			switch {
			case least < gapTouch:
				require.Zero(t, gap)
			case least < gapReach:
				require.InDelta(t, least, gap, 1e-4)
			default:
				require.True(t, math.IsNaN(gap))
			}
		}
	})
}

// Medians and modes do not depend on the order of rows, on batches, or on how many
// goroutines parse.
func TestStockAnyOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	rows := strings.SplitAfter(strings.TrimSpace(string(register(400))), "\n")
	header, rows := rows[0], rows[1:]
	rows[len(rows)-1] += "\n"
	for i := range rows { // some gaps
		cells := strings.Split(rows[i], ",")
		for _, c := range []int{4, 5, 6, 7, 10, 11} {
			if r.IntN(3) == 0 {
				cells[c] = ""
			}
		}
		rows[i] = strings.Join(cells, ",")
	}
	inv := registerPlan()
	inv.Impute, inv.Group = "stock", "floors"
	var want map[string]string
	for try := range 3 {
		buildings, rejects, _ := read(t, open(t, header+strings.Join(rows, ""), inv, Options{BatchRows: 1 + 100*try}))
		require.Empty(t, rejects, "the stock fills all")
		got := make(map[string]string)
		assumed := 0
		for _, b := range buildings {
			b.Line = 0
			got[b.ID] = fmt.Sprintf("%+v", b)
			if b.way[System] == byUse || b.way[System] == byGroup {
				assumed++
			}
		}
		require.Greater(t, assumed, 50)
		if want == nil {
			want = got
		}
		require.Equal(t, len(want), len(got))
		for id := range want {
			require.Equal(t, want[id], got[id])
		}
		r.Shuffle(len(rows), func(i, j int) { rows[i], rows[j] = rows[j], rows[i] })
	}
}

// Lower median and most frequent word, by hand.
func TestMiddle(t *testing.T) {
	for _, c := range []struct {
		counts map[int]int
		word   bool
		want   int
		ok     bool
	}{
		{map[int]int{3: 1, 4: 1, 9: 1, 10: 2}, false, 9, true},
		{map[int]int{1: 3, 2: 3}, false, 1, true}, // of six the third
		{map[int]int{1: 2, 2: 2}, false, 0, false},
		{map[int]int{7: 2, 3: 2, 5: 1}, true, 3, true},
		{map[int]int{7: 4, 3: 2}, true, 7, true},
	} {
		got, ok := middle(c.counts, c.word)
		assert.Equal(t, c.ok, ok, c.counts)
		assert.Equal(t, c.want, got, c.counts)
	}
}
