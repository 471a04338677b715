package field

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geo"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plinth/hazard"
)

// scattered returns n places between latitudes 60 and 75 either side of the
// antimeridian, where degrees of longitude are short and jump.
func scattered(n int) []orb.Point {
	random := rand.New(rand.NewPCG(3, 4))
	p := make([]orb.Point, n)
	for i := range p {
		lon, _ := place(170+20*random.Float64(), 0)
		p[i] = orb.Point{lon, 60 + 15*random.Float64()}
	}
	return p
}

// The reference is a full sort by the great-circle distance of paulmach/orb.
func TestIndexFindsTheNearestOnTheGround(t *testing.T) {
	nodes := scattered(500)
	x := newIndex(nodes)
	all, far := make([]int, len(nodes)), make([]float64, len(nodes))
	for _, at := range scattered(700)[500:] {
		for i := range all {
			all[i], far[i] = i, geo.DistanceHaversine(at, nodes[i])
		}
		slices.SortFunc(all, func(i, j int) int { return cmp.Compare(far[i], far[j]) })
		f := x.nearest(at, 4, math.Inf(1))
		require.Equal(t, 4, f.n)
		for k, n := range f.near {
			require.Equal(t, all[k], n.node)
			require.InDelta(t, far[n.node], metres(n.d2), 1e-3) // 1 mm: rounding of the arctangent form
		}
	}
}

func TestIndexBreaksTiesByNodeAndKeepsReach(t *testing.T) {
	x := newIndex([]orb.Point{{1, 0}, {0, 1}, {-1, 0}, {0, -1}, {0, 0}, {2, 0}})
	f := x.nearest(orb.Point{0, 0}, 4, math.Inf(1))
	assert.Equal(t, []int{4, 0, 1, 2}, []int{f.near[0].node, f.near[1].node, f.near[2].node, f.near[3].node})
	f = x.nearest(orb.Point{2, 0}, 4, 112_000) // a degree is 111.3 km
	assert.Equal(t, 2, f.n)
	f = x.nearest(orb.Point{50, 0}, 4, 112_000)
	assert.Zero(t, f.n)
}

func TestPointsAtNodesIsTheNodesValue(t *testing.T) {
	nodes := square(-30, 40, 0.05, 4)
	p := mustPoints(t, long(nodes, someLevels, somePeriods), asRead)
	for _, n := range nodes {
		s := look(t, p, n[0], n[1])
		assert.Zero(t, s.Distance)
		for l, tr := range someLevels {
			assert.InEpsilon(t, invented(n[0], n[1], tr, 0.5), s.Spectra[l].Sa(0.5), rounding)
		}
	}
}

// By hand: nodes at 1 and 2 parts of the way weigh 4 to 1, so a place at a third
// of the way from 0.1 to 0.2 g has 0.1 x 2^(1/5).
func TestPointsWeighByTheInverseSquare(t *testing.T) {
	p := mustPoints(t, "lon,lat,return_period_yr,pga,sa_0.5\n0,0,475,0.1,0.1\n0,0.03,475,0.2,0.2\n",
		Options{ReturnPeriods: []float64{475}, SoilIncluded: true})
	s := look(t, p, 0, 0.01)
	assert.InEpsilon(t, 0.1*math.Exp2(0.2), s.Spectra[0].PGA, 1e-8) // chord for arc
	assert.InDelta(t, 0.01*math.Pi/180*orb.EarthRadius, s.Distance, 1e-3)
}

func TestPointsBeyondReach(t *testing.T) {
	text := long([][2]float64{{0, 0}}, someLevels, somePeriods)
	p := mustPoints(t, text, asRead)
	var s hazard.Site
	require.NoError(t, p.Lookup(0, 0.0898, 0, &s)) // 9.996 km
	var out *OutsideError
	require.ErrorAs(t, p.Lookup(0, 0.0899, 0, &s), &out) // 10.008 km
	assert.Equal(t, orb.Point{0, 0}, out.Nearest)
	assert.InEpsilon(t, 10_008, out.DistanceM, 1e-4)
}

func TestPointsStayWithinTheirNodes(t *testing.T) {
	nodes := square(-30, 40, 0.05, 6)
	o := Options{ReturnPeriods: []float64{50, 100, 300, 2475, 9975}, SoilIncluded: true, K: 2.5}
	p := mustPoints(t, long(nodes, someLevels, somePeriods), o)
	rapid.Check(t, func(r *rapid.T) {
		at := orb.Point{rapid.Float64Range(-30.03, -29.72).Draw(r, "lon"),
			rapid.Float64Range(39.97, 40.28).Draw(r, "lat")}
		var s, c hazard.Site
		require.NoError(t, p.Lookup(at[0], at[1], 0, &s))
		low, high := math.Inf(1), 0.0
		f := p.places.(*scatter).index.nearest(at, nearby, DefaultMaxDistance)
		for _, n := range f.near[:f.n] {
			require.NoError(t, p.Lookup(nodes[n.node][0], nodes[n.node][1], 0, &c))
			low, high = min(low, c.Spectra[2].PGA), max(high, c.Spectra[2].PGA)
		}
		if got := s.Spectra[2].PGA; got < low*(1-rounding) || got > high*(1+rounding) {
			r.Fatalf("%g is not within its nodes, %g to %g", got, low, high)
		}
		for l := 1; l < len(s.Spectra); l++ {
			if s.Spectra[l].PGA <= s.Spectra[l-1].PGA {
				r.Fatalf("PGA does not grow with the return period")
			}
		}
	})
}
