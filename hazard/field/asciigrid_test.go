package field

import (
	"fmt"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
)

// A 3 x 2 raster, corners at 10 E, 50 N, cells of half a degree: centres at
// 10.25, 10.75, 11.25 E and 50.25, 50.75 N. The north-east cell is sea.
func tile(a, b, c, d, e string) string {
	return "ncols 3\nnrows 2\nxllcorner 10\nyllcorner 50\ncellsize 0.5\nNODATA_value -9999\n" +
		fmt.Sprintf("%s %s -9999\n%s %s %s\n", a, b, c, d, e)
}

func tiles(of ...string) []Raster {
	all := make([]Raster, len(of))
	for i, text := range of {
		all[i] = Raster{475, []float64{0, 0.2, 1}[i], fmt.Sprintf("tile%d.asc", i), strings.NewReader(text)}
	}
	return all
}

func TestRasters(t *testing.T) {
	o := Options{ReturnPeriods: []float64{475}, SoilIncluded: true, Unit: "%g"}
	pga := tile("10", "20", "30", "40", "50")
	g, err := ReadRasters(tiles(pga, tile("25", "50", "75", "100", "125"), pga), o)
	require.NoError(t, err)
	assert.Equal(t, orb.Bound{Min: orb.Point{10.25, 50.25}, Max: orb.Point{11.25, 50.75}}, g.Bound())
	assert.Equal(t, 5, g.Coverage().Nodes)
	assert.Equal(t, 1, g.Coverage().Missing)
	for _, c := range []struct{ lon, lat, pga float64 }{
		// rows run from the north
		{10.25, 50.75, 0.1}, {10.75, 50.75, 0.2}, {10.25, 50.25, 0.3}, {11.25, 50.25, 0.5},
	} {
		s := look(t, g, c.lon, c.lat)
		assert.InEpsilon(t, c.pga, s.Spectra[0].PGA, rounding)
		assert.InEpsilon(t, 2.5*c.pga, s.Spectra[0].Sa(0.2), rounding)
	}
	assert.Equal(t, hazard.NearestNode, look(t, g, 11.2, 50.3).Status)

	// The same with centres, dx and dy, no mention of the sea, rows broken anywhere.
	centred := "NCOLS 3\nNROWS 2\nXLLCENTER 10.25\nYLLCENTER 50.25\nDX 0.5\nDY 0.5\n10 20\n-9999 30\n40 50\n"
	h, err := ReadRasters(tiles(centred, strings.ReplaceAll(centred, "10 20", "25 50"), centred), o)
	require.NoError(t, err)
	assert.Equal(t, g.Bound(), h.Bound())
	assert.Equal(t, look(t, g, 10.5, 50.4).Spectra[0].PGA, look(t, h, 10.5, 50.4).Spectra[0].PGA)
}

func TestBadRasters(t *testing.T) {
	good := tile("0.1", "0.2", "0.3", "0.4", "0.5")
	three := func(bad string) []Raster { return tiles(good, good, bad) }
	twice := append(tiles(good, good, good), Raster{475, 1, "again.asc", strings.NewReader(good)})
	gap := append(tiles(good, good, good), Raster{975, 0, "rare.asc", strings.NewReader(good)})
	for _, c := range []struct {
		name, file string
		in         []Raster
		want       want
	}{
		{"none", "rasters", nil, want{rule: "there are none", problems: 1}},
		{"no spectrum", "tile0.asc", tiles(good), want{column: "period", rule: "are needed", problems: 1}},
		{"twice", "again.asc", twice, want{rule: "the same return period and period: tile2.asc",
			problems: 1}},
		{"gap", "rasters", gap, want{column: "return period, period", value: "975, 0.2", rule: "no file",
			problems: 2}},
		{"return period", "x.asc", []Raster{{0, 0, "x.asc", nil}, {475, 1, "y.asc", nil}},
			want{column: "return period, period", value: "0, 0", rule: "no return period", problems: 1}},
		{"empty", "tile2.asc", three(""), want{rule: "neither header nor values", problems: 1}},
		{"no header", "tile2.asc", three("1 2 3"), want{column: "ncols", rule: "lacks", problems: 7}},
		{"no columns", "tile2.asc", three(strings.Replace(good, "ncols 3\n", "", 1)),
			want{column: "ncols", rule: "lacks", problems: 2}},
		{"half a column", "tile2.asc", three(strings.Replace(good, "ncols 3", "ncols 2.5", 1)),
			want{column: "ncols", value: "2.5", rule: "no count", problems: 1}},
		{"no cells", "tile2.asc", three(strings.Replace(good, "0.5\nNO", "0\nNO", 1)),
			want{column: "cellsize", value: "0", rule: "no size", problems: 2}},
		{"a word", "tile2.asc", three(strings.Replace(good, "0.4", "sea", 1)),
			want{line: 8, value: "sea", rule: "not a number", problems: 1}},
		{"negative", "tile2.asc", three(strings.Replace(good, "0.4", "-0.4", 1)),
			want{line: 8, value: "-0.4", rule: "no acceleration", remedy: "NODATA_value", problems: 1}},
		{"a value short", "tile2.asc", three(strings.TrimSuffix(good, " 0.5\n")),
			want{column: "ncols, nrows", rule: "promises 6 values and the file holds 5", problems: 1}},
		{"other header", "tile2.asc", three(strings.Replace(good, "yllcorner 50", "yllcorner 51", 1)),
			want{rule: "differs from that of tile0.asc", problems: 1}},
		{"other sea", "tile2.asc", three(strings.Replace(good, "0.4", "-9999", 1)),
			want{value: "10.75, 50.25", rule: "data in one raster and none in another", problems: 1}},
		{"projected", "tile0.asc", tiles(move(good), move(good), move(good)),
			want{rule: "no place on earth", remedy: "EPSG:4326", problems: 1}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := ReadRasters(c.in, Options{ReturnPeriods: []float64{475}, SoilIncluded: true})
			c.want.meets(t, err, c.file)
		})
	}
}

func move(text string) string { return strings.Replace(text, "xllcorner 10", "xllcorner 500000", 1) }
