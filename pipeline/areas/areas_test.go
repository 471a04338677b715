package areas

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geo"
	"github.com/paulmach/orb/planar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/output"
)

// stock returns n buildings in about groups groups, some without one, some without a place or a drift.
func stock(n, groups int, seed uint64) []output.Building {
	r := rand.New(rand.NewPCG(seed, 1))
	list := make([]output.Building, n)
	for i := range list {
		b := &list[i]
		output.Buildings.Blank(b)
		b.ID, b.Currency, b.DataGrade = fmt.Sprintf("A-%d", i), "CRD", string("ABCD"[r.IntN(4)])
		b.Lon, b.Lat = -141+r.NormFloat64()*0.05, 41+r.NormFloat64()*0.05
		b.AnnualLoss, b.AnnualFatalities, b.ReplacementValue = float64(r.IntN(1000)), r.Float64(), 1e6
		b.Drift = math.Exp(r.NormFloat64())
		b.Best = []string{"none", "viscous", "slider", ""}[r.IntN(4)]
		b.BestNetBenefit, b.BestCostLikely = float64(r.IntN(2000)-1000), 500
		if b.Area = fmt.Sprint("g", int(math.Abs(r.NormFloat64())*float64(groups)/2)); r.IntN(20) == 0 {
			b.Area = ""
		}
		if r.IntN(30) == 0 {
			b.Lon, b.Drift, b.LookNow = math.NaN(), math.NaN(), "steep"
		}
	}
	return list
}

// Nothing is lost or counted twice, no row shows fewer buildings than least, and every number is that of
// adding up the buildings anew.
func TestAreasAddUp(t *testing.T) {
	for seed := range uint64(40) {
		n, least := int(seed)*7, 1+int(seed%9)
		list := stock(n, 1+int(seed%13), seed)
		table := ByGroup(least)
		for i := range list {
			table.Add(&list[i])
		}
		var total, areas, look int64
		loss, net := 0.0, 0.0
		shown := map[string]bool{}
		rows := table.Rows()
		for _, r := range rows {
			total, areas = total+r.Buildings, areas+r.Joined
			if n >= least {
				assert.GreaterOrEqual(t, r.Buildings, int64(least), "seed %d: %s", seed, r.Name)
				loss, net, look = loss+r.AnnualLoss, net+r.NetBenefit, look+r.LookNow
			}
			shown[r.Name] = r.Kind == output.AreaGroup
		}
		require.EqualValues(t, n, total)
		if n == 0 {
			require.Empty(t, rows)
			continue
		}
		if n < least {
			require.Len(t, rows, 1)
			require.True(t, math.IsNaN(rows[0].AnnualLoss) && rows[0].FirstMeasure == "" && rows[0].Outline == nil)
			continue
		}
		distinct, wantLoss, wantNet, wantLook := map[string]bool{}, 0.0, 0.0, int64(0)
		for i := range list {
			b := &list[i]
			wantLoss, wantNet = wantLoss+b.AnnualLoss, wantNet+max(b.BestNetBenefit, 0)
			if distinct[b.Area] = true; b.LookNow != "" {
				wantLook++
			}
		}
		delete(distinct, "")
		assert.EqualValues(t, len(distinct), areas)
		assert.Equal(t, []any{wantLoss, wantNet, wantLook}, []any{loss, net, look}, "sums of whole numbers are exact")
		for _, r := range rows {
			again(t, &r, list, shown)
		}
	}
}

// again adds up one row from the buildings.
func again(t *testing.T, r *output.Area, list []output.Building, shown map[string]bool) {
	var drifts []float64
	grades, measures := map[string]float64{}, map[string]int{}
	for i := range list {
		b := &list[i]
		if in := b.Area == r.Name || r.Kind == output.AreaJoined && !shown[b.Area]; !in {
			continue
		}
		grades[b.DataGrade]++
		if b.Best != "" {
			measures[b.Best]++
		}
		if !math.IsNaN(b.Drift) {
			drifts = append(drifts, b.Drift)
		}
	}
	slices.Sort(drifts)
	if n := len(drifts); n > 0 {
		assert.InEpsilon(t, (drifts[(n-1)/2]+drifts[n/2])/2, r.MedianDrift, 0.005, "to three digits")
	}
	for i, share := range r.Grades {
		assert.InDelta(t, grades[string("ABCD"[i])]/float64(r.Buildings), share, 1e-12)
	}
	for m, n := range measures {
		assert.LessOrEqual(t, n, measures[r.FirstMeasure], "%s: more have %s than %s", r.Name, m, r.FirstMeasure)
	}
}

// What is left over must not be so little that it can be read off: a single small area pulls in the next
// (the rule is that of statistical offices for tables with totals, secondary suppression: A. Hundepool
// and others, "Statistical Disclosure Control", Wiley 2012, from memory).
func TestJoinedAreasAreEnough(t *testing.T) {
	table := ByGroup(5)
	for i, n := range []int{6, 2, 8} {
		for range n {
			var b output.Building
			output.Buildings.Blank(&b)
			b.Area = string("abc"[i])
			table.Add(&b)
		}
	}
	rows := table.Rows()
	require.Len(t, rows, 2)
	assert.Equal(t, []any{"c", int64(8)}, []any{rows[0].Name, rows[0].Buildings})
	assert.Equal(t, []any{output.AreaJoined, int64(8), int64(2)}, []any{rows[1].Kind, rows[1].Buildings, rows[1].Joined})
}

// Cells are as large as stated (by the distances of orb/geo on the sphere, within what Grid says), hold
// their places, and have names that no other cell of the town has.
func TestGrid(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for range 2000 {
		g := Grid{Cell: 50 * math.Exp(r.Float64()*6)}
		lon, lat := r.Float64()*360-180, r.Float64()*160-80
		b := g.Bound(lon, lat)
		require.True(t, b.Contains(orb.Point{lon, lat}), "%v %v", b, g)
		require.Equal(t, b, g.Bound(b.Center().Lon(), b.Center().Lat()))
		middle := b.Center()
		high := geo.DistanceHaversine(orb.Point{middle.Lon(), b.Bottom()}, orb.Point{middle.Lon(), b.Top()})
		wide := geo.DistanceHaversine(orb.Point{b.Left(), middle.Lat()}, orb.Point{b.Right(), middle.Lat()})
		require.InEpsilon(t, g.Cell, high, 0.003)
		off := math.Tan(math.Abs(middle.Lat())*math.Pi/180)*0.5*math.Pi/180 + 0.003
		if g.Cell < 5000 && math.Abs(lat) < 60 {
			require.InEpsilon(t, g.Cell, wide, 1.1*off, "at %g", lat)
		}
	}
	g := Grid{Cell: 50}
	seen := map[string]orb.Bound{}
	for x := range 60 {
		for y := range 60 {
			lon, lat := -141.2+float64(x)*4e-4, 41.6+float64(y)*3e-4
			b, name := g.Bound(lon, lat), g.Name(lon, lat)
			if other, ok := seen[name]; ok {
				require.Equal(t, other, b, name)
			}
			seen[name] = b
		}
	}
	assert.Empty(t, g.Name(math.NaN(), 1))
	for _, lat := range []float64{-90, 90, 89.99} {
		assert.NotContains(t, g.Name(180, lat), "NaN")
		assert.True(t, g.Bound(10, lat).Contains(orb.Point{10, lat}))
	}
}

// The outline holds every point, turns one way, does not depend on the order, and has corners among the
// points alone.
func TestHull(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	for trial := range 60 {
		points := make([]orb.Point, 3+r.IntN(200)*(1+trial%2*60))
		for i := range points {
			points[i] = orb.Point{math.Round(r.NormFloat64()*20) / 1000, math.Round(r.NormFloat64()*20) / 1000}
		}
		var one, other hull
		for i := range points {
			one.add(points[i])
			other.add(points[len(points)-1-i])
		}
		outline := one.outline()
		require.Equal(t, outline, other.outline())
		ring := outline[0]
		require.Equal(t, ring[0], ring[len(ring)-1])
		require.Equal(t, orb.CCW, ring.Orientation())
		for i := range ring[:len(ring)-1] {
			for _, p := range points {
				require.GreaterOrEqual(t, turn(ring[i], ring[i+1], p), -1e-15)
			}
		}
		require.LessOrEqual(t, len(one.points), mostPoints, "memory does not grow with the points")
	}
	for _, points := range [][]orb.Point{{{1, 2}}, {{1, 2}, {1, 2}}, {{0, 0}, {1, 1}, {2, 2}}} {
		var h hull
		for _, p := range points {
			h.add(p)
		}
		outline := h.outline()
		for _, p := range points {
			require.True(t, planar.PolygonContains(outline, p), "a line or a place has an outline too")
		}
	}
	var none hull
	require.Nil(t, none.outline())
}

// Memory does not grow with the buildings: ten times as many have no more counters or corners.
func TestMemoryIsThatOfAreas(t *testing.T) {
	table := ByCell(Grid{Cell: 5000}, 5)
	most := func() (drifts, points int) {
		for _, s := range table.sums {
			drifts, points = max(drifts, len(s.drifts)), max(points, len(s.hull.points))
		}
		return drifts, points
	}
	for i := range 60 {
		list := stock(2000, 1, uint64(i))
		for k := range list {
			list[k].Area = Grid{Cell: 5000}.Name(list[k].Lon, list[k].Lat)
			table.Add(&list[k])
		}
	}
	drifts, points := most()
	assert.LessOrEqual(t, drifts, 900*5)
	assert.LessOrEqual(t, points, mostPoints)
	for _, r := range table.Rows() {
		assert.Equal(t, r.Kind == output.AreaCell, strings.Contains(r.Name, "."), r.Name)
		assert.Equal(t, r.Kind == output.AreaCell, r.Outline != nil)
	}
}
