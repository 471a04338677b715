package field

import (
	"strings"
	"sync"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
)

func TestCoverage(t *testing.T) {
	text := "kind,lon,lat,return_period_yr,pga,sa_0.2,sa_1\n" +
		"mean,0,50,475,0.1,0.25,0.1\nmean,0.5,50,475,0.12,0.3,0.11\nmean,0,50.25,475,0.3,0.5,0.1\n" +
		"mean,0,50,975,0.2,0.35,0.2\nmean,0.5,50,975,0.2,0.4,0.2\nmean,0,50.25,975,0.4,0.9,0.2\n"
	want := Coverage{
		File: "map.csv", Kind: "mean",
		Bound:         orb.Bound{Min: orb.Point{0, 50}, Max: orb.Point{0.5, 50.25}},
		Nodes:         3,
		Missing:       1,
		Spacing:       [2]float64{0.5, 0.25},
		ReturnPeriods: []float64{475, 975},
		Periods:       []float64{0.2, 1},
	}
	o := Options{ReturnPeriods: []float64{475}, SoilIncluded: true}
	g, err := ReadGrid(strings.NewReader(text), "map.csv", o)
	require.NoError(t, err)
	got := g.Coverage()
	r := got.Range
	require.Len(t, r, 2)
	assert.InDeltaSlice(t, []float64{475, 0.1, 0.3, 0.1, 0.5},
		[]float64{r[0].ReturnPeriod, r[0].PGALow, r[0].PGATop, r[0].SaLow, r[0].SaTop}, rounding)
	assert.InDeltaSlice(t, []float64{975, 0.2, 0.4, 0.2, 0.9},
		[]float64{r[1].ReturnPeriod, r[1].PGALow, r[1].PGATop, r[1].SaLow, r[1].SaTop}, rounding)
	// Two pairs, east and north of the corner; the north one has 0.9/0.35 at 0.2 s
	// and 975 yr, and 3 in PGA at 475 yr.
	n := got.Neighbours
	assert.Equal(t, Steepness{Pairs: 2, Steep: 1, Ratio: n.Ratio, From: orb.Point{0, 50},
		To: orb.Point{0, 50.25}}, n)
	assert.InEpsilon(t, 3, n.Ratio, rounding)
	assert.Equal(t, []string{"1 of 2 pairs of neighbouring nodes differ by more than a factor 2, most by 3 " +
		"between (0, 50) and (0, 50.25)"}, got.Warnings)
	want.Range, want.Neighbours, want.Warnings = got.Range, got.Neighbours, got.Warnings
	assert.Equal(t, want, got)

	p, err := ReadPoints(strings.NewReader(text), "map.csv", o)
	require.NoError(t, err)
	got = p.Coverage()
	want.Missing, want.Spacing = 0, [2]float64{}
	// The nearest other of each node: 27.8 km, a quarter of a degree north, for the
	// two on the meridian, 35.8 km for the third; the pair is counted once.
	assert.InEpsilon(t, 0.25*111_319.49, got.SpacingM, 1e-6) // a degree of the sphere of radius 6378137 m
	assert.Equal(t, 2, got.Neighbours.Pairs)
	want.SpacingM, want.Range, want.Neighbours, want.Warnings = got.SpacingM, got.Range, got.Neighbours,
		got.Warnings
	assert.Equal(t, want, got)
}

// Fields are read by many goroutines at once; run with -race. The first places
// are outside, so that the index a grid makes when first needed is shared too.
func TestLookupsAtOnce(t *testing.T) {
	text := long(square(-30, 40, 0.05, 5), someLevels, somePeriods)
	for _, f := range []Field{mustGrid(t, text, asRead), mustPoints(t, text, asRead)} {
		want := look(t, f, -29.93, 40.07)
		var all sync.WaitGroup
		for range 8 {
			all.Go(func() {
				var s hazard.Site
				for range 50 {
					assert.Error(t, f.Lookup(10, 10, 0, &s))
					assert.NoError(t, f.Lookup(-29.93, 40.07, 0, &s))
					assert.Equal(t, want.Spectra[1].PGA, s.Spectra[1].PGA)
				}
			})
		}
		all.Wait()
	}
}
