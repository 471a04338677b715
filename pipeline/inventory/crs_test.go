package inventory

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/project"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	grid "github.com/wroge/wgs84"

	"plinth/pipeline/plan"
)

// inSystem returns rows with their geometries in a map grid of EPSG: zone 6 of UTM holds
// them all, Web Mercator anything.
func inSystem(rows []stockRow, code int) []stockRow {
	to := grid.LonLat().To(grid.WebMercator())
	if code != 3857 {
		to = grid.LonLat().To(grid.UTM(6, true))
	}
	out := append([]stockRow(nil), rows...)
	for i := range out {
		out[i].At = project.Geometry(orb.Clone(out[i].At), func(p orb.Point) orb.Point {
			x, y, _ := to(p[0], p[1], 0)
			return orb.Point{x, y}
		})
	}
	return out
}

// Geometries in UTM or Web Mercator give the places and outlines of those in degrees, in
// every format that says its system, and the report says so.
func TestGeometriesInGrids(t *testing.T) {
	rows := madeRows(30, true)
	r, err := openBytes(t, stockPackage(t, rows, 4326), stockPlan("geopackage"), Options{})
	require.NoError(t, err)
	want, _, _ := read(t, r)
	for _, code := range []int{3857, 32606, 26906} {
		moved := inSystem(rows, code)
		crs := fmt.Sprintf(`{"crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::%d"}},`, code)
		for name, doc := range map[string][]byte{
			"geopackage": stockPackage(t, moved, code),
			"geojson":    []byte(strings.Replace(string(stockJSON(t, moved, false)), "{", crs, 1)),
			"parquet":    stockGeoIn(t, moved, fmt.Sprintf(`{"id":{"authority":"EPSG","code":%d}}`, code)),
		} {
			r, err := openBytes(t, doc, stockPlan(name), Options{})
			require.NoError(t, err, name)
			got, rejects, report := read(t, r)
			require.Len(t, got, len(want), "%s %v", name, rejects)
			for i := range got {
				// The inverse of the library is within 15 m: see field.ProjectionOf.
				assert.InDelta(t, want[i].Lon, got[i].Lon, 2e-4, name)
				assert.InDelta(t, want[i].Lat, got[i].Lat, 1.4e-4, name)
				assert.InEpsilon(t, want[i].Footprint, got[i].Footprint, 0.01, name)
			}
			assert.Contains(t, strings.Join(strings.Fields(report.String()), " "), fmt.Sprintf("eastings and northings in EPSG:%d", code), name)
		}
	}
	// Degrees that call themselves a grid are of no place in it.
	r, err = openBytes(t, stockPackage(t, rows, 32606), stockPlan("geopackage"), Options{})
	require.NoError(t, err)
	_, rejects, report := read(t, r)
	require.Len(t, rejects, 30)
	assert.Equal(t, 30, report.Tally.Rules[ProjectedCoordinates])
}

// stockGeoIn is stockGeo in another system, as PROJJSON or null.
func stockGeoIn(t *testing.T, rows []stockRow, crs string) []byte {
	key := strings.Replace(geoKey("1.1.0"), `{"id":{"authority":"OGC","code":"CRS84"}}`, crs, 1)
	require.Contains(t, key, crs)
	return stockGeoWith(t, rows, key)
}

// Systems within about 2 m of WGS 84 are taken as they are, with a note; one that nobody
// knows is that of the plan, and two that differ are refused.
func TestSystemsNearWGS84(t *testing.T) {
	rows := madeRows(3, false)
	open := func(doc []byte, format string, edit func(*plan.Inventory)) (*Reader, error) {
		inv := stockPlan(format)
		if edit != nil {
			edit(inv)
		}
		return openBytes(t, doc, inv, Options{})
	}
	for code, name := range map[int]string{4269: "NAD83", 4258: "ETRS89", 6668: "JGD2011", 7844: "GDA2020"} {
		r, err := open(stockPackage(t, rows, code), "geopackage", nil)
		require.NoError(t, err)
		buildings, _, report := read(t, r)
		p := rows[0].At.(orb.Point)
		assert.Equal(t, p, orb.Point{buildings[0].Lon, buildings[0].Lat})
		assert.Contains(t, strings.Join(strings.Fields(report.String()), " "), fmt.Sprintf("on %s (EPSG:%d), within about 2 m of WGS 84", name, code))
	}
	none := stockGeoIn(t, rows, "null")
	_, err := open(none, "parquet", nil)
	require.ErrorContains(t, err, "is not known; write it under [inventory]")
	_, err = open(none, "parquet", func(i *plan.Inventory) { i.CRS = "EPSG:4326" })
	require.NoError(t, err)
	r, err := open(stockGeoIn(t, inSystem(rows, 32606), "null"), "parquet", func(i *plan.Inventory) { i.CRS = "EPSG:32606" })
	require.NoError(t, err)
	buildings, _, _ := read(t, r)
	assert.Less(t, math.Abs(rows[0].At.(orb.Point)[0]-buildings[0].Lon), 2e-4)
	_, err = open(stockPackage(t, rows, 4326), "geopackage", func(i *plan.Inventory) { i.CRS = "EPSG:32606" })
	require.ErrorContains(t, err, "the plan and the register name two systems of coordinates (EPSG:32606 and EPSG:4326)")
	_, err = open(stockPackage(t, rows, 4269), "geopackage", func(i *plan.Inventory) { i.CRS = "EPSG:4326" })
	require.NoError(t, err, "one is taken for the other")
}
