package field

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geo"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plinth/hazard"
)

// Values pass through a logarithm and back, with an error of a few units in the last place.
const rounding = 1e-12

func TestGridAtNodesIsTheNodesValue(t *testing.T) {
	nodes := square(-30, 40, 0.25, 5)
	g := mustGrid(t, long(nodes, someLevels, somePeriods), asRead)
	for _, n := range nodes {
		s := look(t, g, n[0], n[1])
		require.Equal(t, someLevels, s.ReturnPeriod)
		assert.Zero(t, s.Status)
		assert.Zero(t, s.Distance)
		for l, tr := range someLevels {
			assert.InEpsilon(t, invented(n[0], n[1], tr, 0), s.Spectra[l].PGA, rounding)
			for _, p := range somePeriods {
				assert.InEpsilon(t, invented(n[0], n[1], tr, p), s.Spectra[l].Sa(p), rounding)
			}
		}
	}
}

// Bilinear interpolation in ln(Sa) worked by hand: corners 0.1, 0.2, 0.4 and 0.8 g
// are 0.1 x 2^(x + 2 y).
func TestGridIsBilinearInTheLogarithm(t *testing.T) {
	g := mustGrid(t, "lon,lat,return_period_yr,pga,sa_0.5\n"+
		"10,50,475,0.1,0.1\n11,50,475,0.2,0.2\n10,51,475,0.4,0.4\n11,51,475,0.8,0.8\n",
		Options{ReturnPeriods: []float64{475}, SoilIncluded: true})
	for _, p := range [][2]float64{{0, 0}, {0.5, 0.5}, {0.25, 0.75}, {1, 0.3}, {0.7, 1}, {1, 1}} {
		s := look(t, g, 10+p[0], 50+p[1])
		// snap moves a place by 1e-7 cells
		assert.InEpsilon(t, 0.1*math.Exp2(p[0]+2*p[1]), s.Spectra[0].Sa(0.5), 1e-6, "at %v", p)
	}
}

func TestGridAcrossTheAntimeridian(t *testing.T) {
	// 179 to 181 east, written in two ways.
	west := "lon,lat,return_period_yr,pga,sa_0.5\n" +
		"179,-18,475,0.1,0.1\n180,-18,475,0.2,0.2\n-179,-18,475,0.4,0.4\n" +
		"179,-17,475,0.1,0.1\n-180,-17,475,0.2,0.2\n-179,-17,475,0.4,0.4\n"
	east := strings.ReplaceAll(west, "-179,", "181,")
	for _, text := range []string{west, east} {
		g := mustGrid(t, text, Options{ReturnPeriods: []float64{475}, SoilIncluded: true})
		assert.Equal(t, orb.Bound{Min: orb.Point{179, -18}, Max: orb.Point{181, -17}}, g.Bound())
		for _, at := range []struct{ lon, want float64 }{
			{179.5, 0.1 * math.Sqrt2}, {180, 0.2}, {-180, 0.2}, {-179.5, 0.2 * math.Sqrt2},
			{180.5, 0.2 * math.Sqrt2}, {181, 0.4},
		} {
			assert.InEpsilon(t, at.want, look(t, g, at.lon, -17.4).Spectra[0].PGA, rounding, "longitude %g",
				at.lon)
		}
		assert.Error(t, g.Lookup(-178.9, -17.4, 0, new(hazard.Site)))
	}
}

func TestGridRoundTheEarth(t *testing.T) {
	var nodes [][2]float64
	for lon := -180.0; lon < 180; lon += 30 {
		nodes = append(nodes, [2]float64{lon, 0}, [2]float64{lon, 30})
	}
	g := mustGrid(t, long(nodes, someLevels, somePeriods), asRead)
	mean := math.Sqrt(invented(150, 0, 475, 0) * invented(-180, 0, 475, 0))
	assert.InEpsilon(t, mean, look(t, g, 165, 0).Spectra[1].PGA, rounding)
	assert.InEpsilon(t, invented(-180, 0, 475, 0), look(t, g, 180, 0).Spectra[1].PGA, rounding)
}

func TestGridWithMissingNodes(t *testing.T) {
	// The sea takes the nodes with lon + lat > 52 of a 3 x 3 grid.
	var land [][2]float64
	for _, n := range square(0, 50, 1, 3) {
		if n[0]+n[1] <= 52 {
			land = append(land, n)
		}
	}
	g := mustGrid(t, long(land, someLevels, somePeriods), asRead)
	assert.Equal(t, 3, g.Coverage().Missing)

	s := look(t, g, 1.2, 50.9) // cell lacks its north-east corner
	assert.Equal(t, hazard.NearestNode, s.Status)
	assert.InEpsilon(t, invented(1, 51, 475, 0), s.Spectra[1].PGA, rounding)
	assert.Equal(t, geo.DistanceHaversine(orb.Point{1.2, 50.9}, orb.Point{1, 51}), s.Distance)

	s = look(t, g, 1, 50.5) // on the edge of a whole cell and a broken one
	assert.Zero(t, s.Status)
	s = look(t, g, 2, 50) // a node whose cell is broken
	assert.Zero(t, s.Status)

	// The north-east cell has one node left, (1, 51); east of it nothing.
	s = look(t, g, 1.9, 51.9)
	assert.InEpsilon(t, invented(1, 51, 475, 0), s.Spectra[1].PGA, rounding)

	var out *OutsideError
	err := g.Lookup(2.1, 50, 0, s)
	require.ErrorAs(t, err, &out)
	assert.Equal(t, orb.Point{2, 50}, out.Nearest)
	// chord against haversine
	assert.InEpsilon(t, geo.DistanceHaversine(orb.Point{2.1, 50}, orb.Point{2, 50}), out.DistanceM, 1e-9)
	assert.Contains(t, err.Error(), "7.2 km")

	o := asRead
	o.MaxDistance = 8_000
	near := mustGrid(t, long(land, someLevels, somePeriods), o)
	s = look(t, near, 2.1, 50)
	assert.Equal(t, hazard.NearestNode, s.Status)
	// 0.1 degree of the 50th parallel by hand: 0.1 x 111.32 km x cos 50
	assert.InEpsilon(t, 7156, s.Distance, 1e-3)
	assert.ErrorAs(t, near.Lookup(2.2, 50, 0, s), &out)
}

func TestPlacesThatAreNone(t *testing.T) {
	nodes := square(-30, 40, 0.25, 3)
	for _, f := range []Field{mustGrid(t, long(nodes, someLevels, somePeriods), asRead),
		mustPoints(t, long(nodes, someLevels, somePeriods), asRead)} {
		for _, p := range [][2]float64{{math.NaN(), 40}, {-30, math.NaN()}, {math.Inf(1), 40}, {-30, 91},
			{400, 40}} {
			var out *OutsideError
			require.ErrorAs(t, f.Lookup(p[0], p[1], 0, new(hazard.Site)), &out)
			assert.True(t, math.IsNaN(out.DistanceM))
			assert.Contains(t, out.Error(), "no place on earth")
		}
	}
}

func TestOrderOfRowsAndColumnsDoesNotMatter(t *testing.T) {
	text := long(square(-30, 40, 0.25, 4), someLevels, somePeriods)
	lines := strings.Split(strings.TrimSpace(text), "\n")
	random := rand.New(rand.NewPCG(1, 2))
	far := asRead
	far.MaxDistance = 50_000
	random.Shuffle(len(lines)-1, func(i, j int) { lines[1+i], lines[1+j] = lines[1+j], lines[1+i] })
	for i, l := range lines {
		c := strings.Split(l, ",")
		c[0], c[5], c[2], c[7] = c[7], c[2], c[0], c[5]
		lines[i] = strings.Join(c, ",")
	}
	shuffled := "\ufeff# a comment\r\n" + strings.Join(lines, "\r\n")
	grid, shuffledGrid := mustGrid(t, text, asRead), mustGrid(t, shuffled, asRead)
	points, shuffledPoints := mustPoints(t, text, far), mustPoints(t, shuffled, far)
	for range 50 {
		lon, lat := -30+0.75*random.Float64(), 40+0.75*random.Float64()
		assert.Equal(t, look(t, grid, lon, lat), look(t, shuffledGrid, lon, lat))
		assert.Equal(t, look(t, points, lon, lat), look(t, shuffledPoints, lon, lat))
	}
}

func TestGridStaysWithinItsCornersAndGrowsWithReturnPeriod(t *testing.T) {
	g := mustGrid(t, long(square(-30, 40, 0.25, 5), someLevels, somePeriods),
		Options{ReturnPeriods: []float64{50, 100, 225, 475, 975, 2475, 9975}, SoilIncluded: true, K: 3})
	rapid.Check(t, func(r *rapid.T) {
		i, j := rapid.IntRange(0, 3).Draw(r, "column"), rapid.IntRange(0, 3).Draw(r, "row")
		u, v := rapid.Float64Range(0, 1).Draw(r, "u"), rapid.Float64Range(0, 1).Draw(r, "v")
		var s, c hazard.Site
		require.NoError(t, g.Lookup(-30+0.25*(float64(i)+u), 40+0.25*(float64(j)+v), 0, &s))
		low, high := math.Inf(1), 0.0
		for _, k := range [][2]int{{i, j}, {i + 1, j}, {i, j + 1}, {i + 1, j + 1}} {
			require.NoError(t, g.Lookup(-30+0.25*float64(k[0]), 40+0.25*float64(k[1]), 0, &c))
			low, high = min(low, c.Spectra[2].Sa(0.3)), max(high, c.Spectra[2].Sa(0.3))
		}
		got := s.Spectra[2].Sa(0.3)
		if got < low*(1-rounding) || got > high*(1+rounding) {
			r.Fatalf("%g is not within its corners, %g to %g", got, low, high)
		}
		for l := 1; l < len(s.Spectra); l++ {
			if s.Spectra[l].Sa(0.3) <= s.Spectra[l-1].Sa(0.3) {
				r.Fatalf("Sa does not grow from %g to %g yr", s.ReturnPeriod[l-1], s.ReturnPeriod[l])
			}
		}
	})
}
