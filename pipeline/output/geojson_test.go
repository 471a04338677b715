package output

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// feature is a Feature of RFC 7946, 3.2.
type feature struct {
	Type, ID, Caution string
	Geometry          *struct {
		Type        string
		Coordinates []json.Number
	}
	Properties map[string]any
}

// checkFeature holds a feature to the row it was written from.
func checkFeature(t *testing.T, f *feature, r *Building) {
	require.Equal(t, "Feature", f.Type)
	require.Equal(t, cleanText(r.ID), f.ID)
	require.Len(t, f.Properties, len(Buildings.Columns))
	if math.IsNaN(r.Lon) {
		require.Nil(t, f.Geometry, "RFC 7946, 3.2: unlocated is null")
	} else {
		require.Equal(t, "Point", f.Geometry.Type)
		for i, v := range []float64{r.Lon, r.Lat} { // 3.1.1: longitude first
			_, decimals, _ := strings.Cut(f.Geometry.Coordinates[i].String(), ".")
			require.LessOrEqual(t, len(decimals), 7)
			got, err := f.Geometry.Coordinates[i].Float64()
			require.NoError(t, err)
			require.InDelta(t, v, got, 0.51e-7)
		}
	}
	for i := range Buildings.Columns {
		c := &Buildings.Columns[i]
		switch got := f.Properties[c.Name]; {
		case c.missing(r):
			require.Nil(t, got, c.Name)
		case c.Float != nil:
			require.Equal(t, c.float(r), got, c.Name)
		case c.Text != nil:
			require.Equal(t, cleanText(*c.Text(r)), got, c.Name)
		case c.Int != nil:
			require.Equal(t, float64(*c.Int(r)), got, c.Name)
		default:
			require.Equal(t, *c.Bool(r), got, c.Name)
		}
	}
}

func TestGeoJSON(t *testing.T) {
	rs := rows(300)
	dir := writeFormats(t, &Buildings, rs, FormatGeoJSON, FormatGeoLines)
	b, err := os.ReadFile(filepath.Join(dir, "buildings.geojson"))
	require.NoError(t, err)
	var all struct {
		Type, Caution string
		Features      []feature
		BBox          []float64
		CRS           any
	}
	require.NoError(t, json.Unmarshal(b, &all))
	require.Equal(t, "FeatureCollection", all.Type)
	require.Equal(t, Caution, all.Caution)
	require.Nil(t, all.CRS, "RFC 7946, 4: no crs member")
	require.Len(t, all.Features, len(rs))
	west, south, east, north := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for i := range rs {
		checkFeature(t, &all.Features[i], &rs[i])
		if g := all.Features[i].Geometry; g != nil {
			x, _ := g.Coordinates[0].Float64()
			y, _ := g.Coordinates[1].Float64()
			west, south, east, north = min(west, x), min(south, y), max(east, x), max(north, y)
		}
	}
	require.Equal(t, []float64{west, south, east, north}, all.BBox, "RFC 7946, 5")

	b, err = os.ReadFile(filepath.Join(dir, "buildings.geojsonl"))
	require.NoError(t, err)
	lines := bytes.Split(bytes.TrimSuffix(b, []byte("\n")), []byte("\n"))
	require.Len(t, lines, len(rs))
	for i, line := range lines {
		var f feature
		require.NoError(t, json.Unmarshal(line, &f))
		checkFeature(t, &f, &rs[i])
		require.Equal(t, i == 0, f.Caution == Caution)
	}
}

// TestGeoJSONOfCandidates: a building's id is not the id of one of its rows.
func TestGeoJSONOfCandidates(t *testing.T) {
	var c Candidate
	Candidates.Blank(&c)
	c.Rank, c.BuildingID, c.Measure = 1, "A", "viscous"
	var b bytes.Buffer
	g := NewGeoJSON(&b, &Candidates)
	require.NoError(t, g.Write(&c))
	require.NoError(t, g.Close())
	require.NotContains(t, b.String(), `"id":`)
	require.NotContains(t, b.String(), `"bbox"`)
	require.True(t, json.Valid(b.Bytes()))
}

// FuzzJSON holds the encoding of texts to the Go library's reader.
func FuzzJSON(f *testing.F) {
	for _, s := range hostile {
		f.Add(s)
	}
	f.Add("\u2028\u2029\u0085\x7f")
	f.Fuzz(func(t *testing.T, s string) {
		b := appendJSON(nil, s)
		var back string
		require.NoError(t, json.Unmarshal(b, &back), string(b))
		require.Equal(t, cleanText(s), back)
		require.False(t, bytes.ContainsAny(b, "\n\r\u2028\u2029\u0085"), "stays on one line")
	})
}

func TestGeoJSONAllocatesNothing(t *testing.T) {
	rs := rows(50)
	g := NewGeoJSONLines(&discard{}, &Buildings)
	i := 0
	n := testing.AllocsPerRun(200, func() {
		if err := g.Write(&rs[i%20]); err != nil {
			t.Fatal(err)
		}
		i++
	})
	require.Zero(t, n)
}

func BenchmarkGeoJSON(b *testing.B) {
	rs := rows(1000)
	g := NewGeoJSONLines(&discard{}, &Buildings)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if err := g.Write(&rs[i%len(rs)]); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkGeoPackage(b *testing.B) {
	rs := rows(1000)
	g, err := NewGeoPackage(filepath.Join(b.TempDir(), "buildings.gpkg"), &Buildings, About{})
	require.NoError(b, err)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if err := g.Write(&rs[i%len(rs)]); err != nil {
			b.Fatal(err)
		}
	}
	require.NoError(b, g.Close())
}
