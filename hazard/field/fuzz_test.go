package field

import (
	"bytes"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/hazard"
)

// sound checks the properties of any field that a reader accepts: at any place a lookup gives
// positive finite spectra at the run's levels or an error of its kind.
func sound(t *testing.T, f Field, err error, o Options) {
	t.Helper()
	if err != nil {
		var ps *Problems
		require.ErrorAs(t, err, &ps)
		for _, p := range ps.List {
			require.NotEmpty(t, p.Rule)
			require.NotEmpty(t, p.Remedy)
		}
		return
	}
	b := f.Bound()
	var s hazard.Site
	for _, w := range []float64{0, 0.3, 0.5, 1} {
		lon, lat := b.Min[0]+w*(b.Max[0]-b.Min[0]), b.Min[1]+w*(b.Max[1]-b.Min[1])
		if err := f.Lookup(lon, lat, 'C', &s); err != nil {
			continue
		}
		require.Equal(t, o.ReturnPeriods, s.ReturnPeriod)
		require.Len(t, s.Spectra, len(o.ReturnPeriods))
		for i := range s.Spectra {
			for _, period := range []float64{0, 0.3, 2, 50} {
				sa := s.Spectra[i].Sa(period)
				require.True(t, sa > 0 && !math.IsInf(sa, 1), "Sa(%g) = %g", period, sa)
			}
		}
	}
	c := f.Coverage()
	require.Positive(t, c.Nodes)
	require.Len(t, c.Range, len(c.ReturnPeriods))
}

var fuzzed = Options{ReturnPeriods: []float64{100, 475, 4975}, SoilIncluded: true, K: 3, MaxDistance: 5000}

func FuzzRead(f *testing.F) {
	f.Add(head + four)
	f.Add(head + four + "1,51,975,1,2,1\n")
	f.Add("\ufefflon,lat,return_period_yr,sa_0,sa_0.5_g,kind\r\n179,1,475,1,1,x\r\n-180,1,475,1,2,x\r\n" +
		"179,2,475,1,1,x\r\n")
	f.Add("lon;lat\n")
	f.Add("lon,lat,return_period_yr,pga,sa_1\n0,90,475,1,1\n0,-90,475,1,1\n" +
		"180,0,475,1,1\n-180,1e-9,475,1,1\n")
	f.Fuzz(func(t *testing.T, text string) {
		for _, l := range []Layout{Regular, Scattered} {
			n, err := readNodes(strings.NewReader(text), "fuzz.csv", l, fuzzed)
			sound(t, n, err, fuzzed)
		}
	})
}

func FuzzReadZones(f *testing.F) {
	f.Add(collection(outer, inner, islands, node))
	f.Add(strings.Replace(collection(inner), `"features"`, oldCRS, 1))
	f.Add(`{"type":"FeatureCollection","features":[{"geometry":{"type":"Polygon","coordinates":[]}}]}`)
	f.Fuzz(func(t *testing.T, text string) {
		z, err := ReadZones(strings.NewReader(text), "fuzz.geojson", fuzzed)
		sound(t, z, err, fuzzed)
	})
}

func FuzzReadCurves(f *testing.F) {
	f.Add(curveHead + "0,34,0,0.1,0.01\n0,34,0,0.2,0.001\n0,34,1,0.1,0.01\n0,34,1,0.2,0.001\n")
	f.Add(curveHead + "0,34,pga,0.1,0\n")
	f.Fuzz(func(t *testing.T, text string) {
		n, err := ReadCurves(strings.NewReader(text), "fuzz.csv", Scattered, fuzzed)
		sound(t, n, err, fuzzed)
	})
}

func FuzzReadRasters(f *testing.F) {
	f.Add(tile("0.1", "0.2", "0.3", "0.4", "0.5"))
	f.Add("ncols 2\nnrows 2\nxllcenter -180\nyllcenter 89\ndx 180\ndy 1\n1 NaN\n1 1\n")
	f.Fuzz(func(t *testing.T, text string) {
		g, err := ReadRasters(tiles(text, text), fuzzed)
		sound(t, g, err, fuzzed)
	})
}

func FuzzReadParameters(f *testing.F) {
	f.Add(parameterHead + "0,40,1.5,0.6,8,\n0.5,40,1.0,0.4,8,D\n")
	f.Fuzz(func(t *testing.T, text string) {
		p, err := ReadParameters(strings.NewReader(text), "fuzz.csv", Scattered, 2475, fuzzed)
		sound(t, p, err, fuzzed)
	})
}

func FuzzReadCode(f *testing.F) {
	f.Add("lon,lat,ag\n0,40,0.1\n1,40,0.2\n0,41,0.1\n1,41,0.3\n")
	f.Add("lon,lat,z\n174,-41,0.4\n")
	f.Add("lon,lat,return_period_yr,ag,f0,tc\n13,42,475,0.2,2.4,0.3\n13,42,50,0.1,2.4,0.3\n")
	f.Fuzz(func(t *testing.T, text string) {
		o := fuzzed
		o.SoilIncluded = false
		for _, s := range []Standard{type1(1), NZS1170{}, NTC2018{1}} {
			for _, l := range []Layout{Regular, Scattered} {
				c, err := ReadCode(strings.NewReader(text), "fuzz.csv", l, s, o)
				sound(t, c, err, o)
			}
		}
	})
}

func FuzzReadGround(f *testing.F) {
	f.Add(collection(geometryOf("Polygon", "["+box(10, 50, 11, 51)+"]", `{"site_class": "E"}`),
		geometryOf("Polygon", "["+box(10, 50, 11, 51)+"]", `{"vs30": 200}`)))
	f.Add(`{"type": "FeatureCollection", "features": [{"type": "Feature", "geometry": null, "properties": ` +
		`{"vs30": "x"}}]}`)
	f.Fuzz(func(t *testing.T, text string) {
		g, err := ReadGround(strings.NewReader(text), "fuzz.geojson", hazard.SoilEN1998)
		if (g == nil) == (err == nil) {
			t.Fatal("areas or problems, not both or neither")
		}
		if g != nil {
			g.At(10.5, 50.5)
		}
	})
}

// Three hundred damaged copies of a grid are refused with what to do or give fields that are
// sound.
func TestDamagedGrids(t *testing.T) {
	doc := []byte(head + four)
	r := rand.New(rand.NewPCG(9, 10))
	refused := 0
	for range 300 {
		text := bytes.Clone(doc)
		for range 1 + r.IntN(8) {
			text[r.IntN(len(text))] = byte(r.Uint32())
		}
		text = text[:len(text)-r.IntN(2)*r.IntN(len(text))]
		n, err := readNodes(bytes.NewReader(text), "grid.csv", Regular, fuzzed)
		sound(t, n, err, fuzzed)
		if err != nil {
			refused++
		}
	}
	require.Greater(t, refused, 200)
	require.Less(t, refused, 300)
}
