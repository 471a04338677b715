package field

import (
	"math"
	"math/rand/v2"
	"strings"
	"sync"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/quadtree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
)

// large is a table of about 100,000 nodes with 8 levels and 10 periods, and a
// million places within it.
var large = sync.OnceValues(func() (*table, []orb.Point) {
	t := &table{file: "large", levels: eight, periods: []float64{0.05, 0.1, 0.2, 0.3, 0.5, 0.75, 1, 1.5, 2,
		4}}
	for _, n := range square(-20, 30, 0.03125, 317) {
		t.node, t.line = append(t.node, orb.Point(n)), append(t.line, 1)
		for _, tr := range t.levels {
			t.ln = append(t.ln, math.Log(invented(n[0], n[1], tr, 0)))
			for _, p := range t.periods {
				t.ln = append(t.ln, math.Log(invented(n[0], n[1], tr, p)))
			}
		}
	}
	random := rand.New(rand.NewPCG(5, 6))
	at := make([]orb.Point, 1_000_000)
	for i := range at {
		at[i] = orb.Point{-20 + 9.875*random.Float64(), 30 + 9.875*random.Float64()}
	}
	return t, at
})

var eight = []float64{25, 50, 100, 225, 475, 975, 2475, 4975}

func lookups(b *testing.B, f Field, at []orb.Point, class hazard.SiteClass) {
	var s hazard.Site
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		p := at[i%len(at)]
		if err := f.Lookup(p[0], p[1], class, &s); err != nil {
			b.Fatal(err)
		}
		i++
	}
}

func BenchmarkGridLookup(b *testing.B) {
	t, at := large()
	g, err := newNodes(t, Regular, Options{ReturnPeriods: eight, SoilIncluded: true})
	if err != nil {
		b.Fatal(err)
	}
	lookups(b, g, at, 0)
}

func BenchmarkGridLookupOnSoil(b *testing.B) {
	t, at := large()
	g, err := newNodes(t, Regular, Options{ReturnPeriods: eight})
	if err != nil {
		b.Fatal(err)
	}
	lookups(b, g, at, 'D')
}

func BenchmarkCodeLookup(b *testing.B) {
	_, at := large()
	c, err := NewCode(type1(1), []CodeLevel{{Values: []float64{0.25}}}, Options{ReturnPeriods: eight, K: 3})
	if err != nil {
		b.Fatal(err)
	}
	lookups(b, c, at, 'C')
}

// A microzonation map of 10,000 squares.
func BenchmarkGroundZones(b *testing.B) {
	_, at := large()
	g := &GroundZones{}
	for i, n := range square(-20, 30, 0.098, 100) {
		p := orb.Polygon{{{n[0], n[1]}, {n[0] + 0.098, n[1]}, {n[0] + 0.098, n[1] + 0.098},
			{n[0], n[1] + 0.098}, {n[0], n[1]}}}
		g.areas.list = append(g.areas.list, area{p, p.Bound(), i})
		g.class = append(g.class, 'C')
	}
	g.areas.sort()
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		p := at[i%len(at)]
		g.At(p[0], p[1])
	}
}

func BenchmarkPointsLookup(b *testing.B) {
	t, at := large()
	p, err := newNodes(t, Scattered, Options{ReturnPeriods: eight, SoilIncluded: true})
	if err != nil {
		b.Fatal(err)
	}
	lookups(b, p, at, 0)
}

// The search alone, and that of the quadtree of paulmach/orb in degrees.
func BenchmarkNearestFour(b *testing.B) {
	t, at := large()
	b.Run("index", func(b *testing.B) {
		x := newIndex(t.node)
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			x.nearest(at[i%len(at)], 4, 10_000)
		}
	})
	b.Run("quadtree", func(b *testing.B) {
		q := quadtree.New(newScatter(t, 0).bound())
		for _, p := range t.node {
			if err := q.Add(p); err != nil {
				b.Fatal(err)
			}
		}
		var buf []orb.Pointer
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			buf = q.KNearest(buf, at[i%len(at)], 4)
		}
	})
}

func BenchmarkReadGrid(b *testing.B) {
	text := long(square(-20, 30, 0.05, 50), eight, somePeriods)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, err := ReadGrid(strings.NewReader(text), "grid.csv",
			Options{ReturnPeriods: eight, SoilIncluded: true}); err != nil {
			b.Fatal(err)
		}
	}
}

func TestLookupsAllocateNothing(t *testing.T) {
	text := long(square(-30, 40, 0.05, 5), someLevels, somePeriods)
	onRock := Options{ReturnPeriods: someLevels}
	zones, err := ReadZones(strings.NewReader(collection(geometryOf("Polygon", "["+box(-30, 40, -29, 41)+"]",
		at475(0.1)))), "zones.geojson", asRead)
	require.NoError(t, err)
	for _, f := range []Field{mustGrid(t, text, asRead), mustGrid(t, text, onRock),
		mustPoints(t, text, asRead), zones} {
		var s hazard.Site
		read := func() { err = f.Lookup(-29.93, 40.03, 'C', &s) }
		read()
		require.NoError(t, err)
		assert.Zero(t, testing.AllocsPerRun(100, read), "%T", f)
	}
}
