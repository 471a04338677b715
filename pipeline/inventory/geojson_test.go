package inventory

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geo"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/inventory/fault"
	"plinth/pipeline/inventory/source"
	"plinth/pipeline/plan"
)

func geoPlan() *plan.Inventory {
	inv := smallPlan()
	inv.Format = "geojson"
	delete(inv.Columns, "lon")
	delete(inv.Columns, "lat")
	return inv
}

const geoProperties = `"properties":{"ref":"%s","name":"Old Hall","built":1965,"floors":4,"height":14.0,"area":2000,"type":"RC","use":null}`

func geoFeature(id, geometry string) string {
	return fmt.Sprintf(`{"type":"Feature",`+geoProperties+`,"geometry":%s}`, id, geometry)
}

func collection(features ...string) string {
	return `{"type":"FeatureCollection","name":"x","features":[` + strings.Join(features, ",") + `]}`
}

// rectangle is a rectangle of 40 m by 15 m turned by an angle, on a sphere of
// orb's radius, as GeoJSON and as a ring.
func rectangle(turn float64) (string, orb.Ring) {
	at := orb.Point{-150.5, 40.5}
	m := 180 / (math.Pi * orb.EarthRadius) // degrees a metre
	c, s := math.Cos(turn), math.Sin(turn)
	var ring orb.Ring
	var text []string
	for _, p := range [][2]float64{{-20, -7.5}, {20, -7.5}, {20, 7.5}, {-20, 7.5}, {-20, -7.5}} {
		x, y := p[0]*c-p[1]*s, p[0]*s+p[1]*c
		q := orb.Point{at[0] + x*m/math.Cos(at[1]*math.Pi/180), at[1] + y*m}
		ring = append(ring, q)
		text = append(text, fmt.Sprintf("[%.12f,%.12f]", q[0], q[1]))
	}
	return "[" + strings.Join(text, ",") + "]", ring
}

func TestOutline(t *testing.T) {
	for _, turn := range []float64{0, 0.3, 1.2, 2.9} {
		text, ring := rectangle(turn)
		doc := collection(
			geoFeature("B1", `{"type":"Point","coordinates":[-150.1,40.2345,12.0]}`),
			geoFeature("B2", `{"type":"Polygon","coordinates":[`+text+`]}`),
			geoFeature("B3", `{"type":"MultiPolygon","coordinates":[[`+text+`]]}`),
		)
		buildings, rejects, _ := read(t, open(t, doc, geoPlan(), Options{}))
		require.Empty(t, rejects)
		require.Len(t, buildings, 3)
		assert.Equal(t, orb.Point{-150.1, 40.2345}, orb.Point{buildings[0].Lon, buildings[0].Lat})
		assert.Equal(t, Given, buildings[0].Origin[Lon])
		assert.Equal(t, Derived, buildings[0].Origin[Footprint])
		for _, b := range buildings[1:] {
			assert.InDelta(t, -150.5, b.Lon, 1e-7)
			assert.InDelta(t, 40.5, b.Lat, 1e-7)
			// 600 m2 and 40 by 15 m by construction; the scale of longitude changes by
			// 1e-6 over 15 m, so 1e-5 of the value is ample.
			assert.InDelta(t, 600, b.Footprint, 600e-5)
			assert.InDelta(t, 40, b.Length, 40e-5)
			assert.InDelta(t, 15, b.Width, 15e-5)
			assert.InDelta(t, geo.Area(orb.Polygon{ring}), b.Footprint, 1e-4) // the text has 12 decimals
			assert.Equal(t, Derived, b.Origin[Length])
			assert.Equal(t, Given, b.Origin[FloorArea])
		}
	}
}

func TestOutlineExchanged(t *testing.T) {
	text, _ := rectangle(0.5)
	swapped := strings.NewReplacer("[[", "[[", "],[", "];[").Replace(text)
	var points []string
	for _, p := range strings.Split(strings.Trim(swapped, "[]"), "];[") {
		x, y, _ := strings.Cut(p, ",")
		points = append(points, "["+y+","+x+"]")
	}
	doc := collection(geoFeature("B1", `{"type":"Polygon","coordinates":[[`+strings.Join(points, ",")+`]]}`))
	_, rejects, _ := read(t, open(t, doc, geoPlan(), Options{}))
	require.Len(t, rejects, 1)
	assert.Equal(t, SwappedCoordinates, rejects[0].Rule)

	inv := geoPlan()
	inv.Swap = true
	buildings, _, _ := read(t, open(t, doc, inv, Options{}))
	require.Len(t, buildings, 1)
	assert.InDelta(t, 600, buildings[0].Footprint, 600e-5)
	assert.InDelta(t, 40.5, buildings[0].Lat, 1e-7)
}

func TestBadFeatures(t *testing.T) {
	good := geoFeature("B1", `{"type":"Point","coordinates":[-150.1,40.2345]}`)
	for text, rule := range map[string]Rule{
		geoFeature("B2", "null"): MissingCoordinate,
		geoFeature("B2", `{"type":"LineString","coordinates":[[1,2],[3,4]]}`):              BadFeature,
		geoFeature("B2", `{"type":"Polygon","coordinates":[1,2]}`):                         BadFeature,
		geoFeature("B2", `{"type":"Polygon","coordinates":[]}`):                            MissingCoordinate,
		geoFeature("B2", `{"type":"Polygon","coordinates":[[[1,2],[1,2],[1,2],[1,2]]]}`):   MissingCoordinate,
		geoFeature("B2", `{"type":"Polygon","coordinates":[[[1e308,2],[1,1e308],[1,2]]]}`): MissingCoordinate,
		`{"type":"Feature","properties":{},"geometry":null}`:                               MissingID,
		`{"type":"Feature","properties":"none","geometry":null}`:                           BadFeature,
		`17`: BadFeature,
	} {
		buildings, rejects, _ := read(t, open(t, collection(good, text, geoFeature("B3", `{"type":"Point","coordinates":[-150.2,40.3]}`)), geoPlan(), Options{}))
		require.Len(t, rejects, 1, text)
		assert.Equal(t, rule.String(), rejects[0].Rule.String(), text)
		assert.Equal(t, 2, rejects[0].Line)
		assert.Len(t, buildings, 2, text)
	}
}

func TestGeoJSONMessages(t *testing.T) {
	good := geoFeature("B1", `{"type":"Point","coordinates":[-150.1,40.2345]}`)
	crs := `{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"%s"}},"features":[` + good + `]}`
	for text, want := range map[string]string{
		"":                    "register.json: the file is empty",
		"[]":                  "register.json: not GeoJSON at byte 1",
		"{}":                  "register.json: no member called features; the register must be one GeoJSON FeatureCollection",
		`{"features":{}}`:     "register.json: not GeoJSON",
		`{"features":[{"type`: "register.json: not GeoJSON at byte",
		fmt.Sprintf(crs, "urn:ogc:def:crs:EPSG::2193"):        "its coordinates are in a system that is not read (EPSG:2193)",
		strings.ReplaceAll(collection(good), "height", "hgt"): `inventory.columns.height: column "height": the register has no such column`,
	} {
		_, err := NewReader(strings.NewReader(text), "register.json", geoPlan(), Options{})
		require.Error(t, err, text)
		assert.Contains(t, err.Error(), want)
		var fe *fault.FileError
		assert.True(t, errors.As(err, &fe))
	}
	_, err := NewReader(strings.NewReader("\ufeff"+fmt.Sprintf(crs, "urn:ogc:def:crs:OGC:1.3:CRS84")), "register.json", geoPlan(), Options{})
	require.NoError(t, err)
	_, err = NewReader(strings.NewReader(collection(good)), "register.json", smallPlan(), Options{})
	require.ErrorContains(t, err, `write format = "geojson" under [inventory] if it is GeoJSON`)

	inv := geoPlan()
	delete(inv.Units, "height")
	_, err = NewReader(strings.NewReader(collection(good)), "register.json", inv, Options{})
	require.ErrorContains(t, err, "its cells are such as 14.0")
}

// A file that ends early is an error after the features that could be read.
func TestGeoJSONCutShort(t *testing.T) {
	var features []string
	for i := range source.HeadFeatures + 5 {
		features = append(features, geoFeature(fmt.Sprintf("B%d", i), fmt.Sprintf(`{"type":"Point","coordinates":[-150.1,40.2%03d]}`, i)))
	}
	doc := collection(features...)
	r := open(t, doc[:len(doc)-40], geoPlan(), Options{BatchRows: 10})
	var raw Raw
	var b Batch
	n := 0
	err := r.Read(&raw, &b)
	for ; err == nil; err = r.Read(&raw, &b) {
		n += len(b.Buildings)
	}
	require.ErrorContains(t, err, "not GeoJSON")
	assert.Equal(t, source.HeadFeatures+4, n)
}

// The campus register gives the same buildings as CSV and as GeoJSON, but for
// what only an outline can give.
func TestCampusBothWays(t *testing.T) {
	inv := campusPlan(campusFile(t, "buildings.csv"))
	inv.Swap = true
	fromCSV, rejectsCSV, _ := readCampus(t, inv, Options{})

	inv = campusPlan(campusFile(t, "buildings.geojson"))
	inv.Format = "geojson"
	delete(inv.Columns, "lon")
	delete(inv.Columns, "lat")
	fromJSON, rejectsJSON, rep := readCampus(t, inv, Options{})
	assert.Equal(t, 443, rep.Tally.In)

	byID := map[string]*Building{}
	for i := range fromJSON {
		byID[fromJSON[i].ID] = &fromJSON[i]
	}
	for i := range fromCSV {
		a, b := &fromCSV[i], byID[fromCSV[i].ID]
		require.NotNil(t, b, a.ID)
		assert.Equal(t, a.Name, b.Name)
		assert.Equal(t, a.Year, b.Year, a.ID)
		assert.Equal(t, a.Storeys, b.Storeys, a.ID)
		assert.Equal(t, a.Height, b.Height, a.ID)
		assert.Equal(t, a.FloorArea, b.FloorArea, a.ID)
		assert.Equal(t, a.System, b.System, a.ID)
		assert.Equal(t, a.Use, b.Use, a.ID)
		// The CSV's point is one inside the outline, not always its centroid.
		apart := geo.DistanceHaversine(orb.Point{a.Lon, a.Lat}, orb.Point{b.Lon, b.Lat})
		assert.Less(t, apart, 100.0, a.ID)
		assert.Equal(t, Derived, b.Origin[Length], a.ID)
		assert.LessOrEqual(t, b.Width, b.Length)
	}
	// Outlines give a floor area to rows that have none in the table.
	assert.LessOrEqual(t, len(rejectsJSON), len(rejectsCSV))
}

func FuzzGeoJSON(f *testing.F) {
	text, _ := rectangle(1)
	f.Add(collection(geoFeature("B1", `{"type":"Point","coordinates":[-150.1,40.2345]}`), geoFeature("B2", `{"type":"Polygon","coordinates":[`+text+`]}`)))
	f.Add(collection(geoFeature("B1", "null"), "17", `{"type":"Feature","properties":{"ref":[1,{"a":2}]},"geometry":{"type":"MultiPolygon","coordinates":[[[[0,0]]]]}}`))
	f.Fuzz(func(t *testing.T, text string) {
		r, err := NewReader(strings.NewReader(text), "register.json", geoPlan(), Options{BatchRows: 2})
		if err != nil {
			return
		}
		var raw Raw
		var b Batch
		for r.Read(&raw, &b) == nil {
			for i := range b.Buildings {
				checkBuilding(t, &b.Buildings[i])
			}
		}
		rep := r.Report()
		require.NoError(t, rep.Tally.Check())
	})
}
