package field

import (
	"fmt"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geo"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
)

// at475 is the property hazard of a feature with a peak of pga g.
func at475(pga float64) string {
	return fmt.Sprintf(`{"name": "zone of %g", "hazard": [{"return_period_yr": 475, "pga": %g, "sa_0.2": `+
		`%g, "sa_1": %g}]}`, pga, pga, 2.5*pga, pga)
}

func geometryOf(kind, coordinates, properties string) string {
	return fmt.Sprintf(`{"type": "Feature", "geometry": {"type": %q, "coordinates": %s}, "properties": %s}`,
		kind, coordinates, properties)
}

func collection(features ...string) string {
	return `{"type": "FeatureCollection", "features": [` + "\n" + strings.Join(features, ",\n") + "\n]}"
}

// box is the ring of a rectangle.
func box(west, south, east, north float64) string {
	return fmt.Sprintf("[[%g,%g],[%g,%g],[%g,%g],[%g,%g],[%g,%g]]", west, south, east, south, east, north,
		west, north, west, south)
}

var (
	// with a hole
	outer   = geometryOf("Polygon", "["+box(0, 50, 10, 60)+","+box(4, 54, 6, 56)+"]", at475(0.1))
	inner   = geometryOf("Polygon", "["+box(4, 54, 6, 56)+"]", at475(0.2))
	islands = geometryOf("MultiPolygon", "[["+box(20, 50, 21, 51)+"],["+box(179, 50, 181, 51)+"]]",
		at475(0.3))
	node   = geometryOf("Point", "[30, 50, 12.5]", at475(0.4)) // with a height
	oldCRS = `"crs": {"type": "name", "properties": {"name": "urn:ogc:def:crs:OGC:1.3:CRS84"}}, "features"`
)

func zoneOptions(reach float64) Options {
	return Options{ReturnPeriods: []float64{475}, SoilIncluded: true, MaxDistance: reach}
}

func TestZones(t *testing.T) {
	text := strings.Replace(collection(outer, inner, islands, node), `"features"`, oldCRS, 1)
	z, err := ReadZones(strings.NewReader(text), "zones.geojson", zoneOptions(50_000))
	require.NoError(t, err)
	assert.Empty(t, z.Coverage().Warnings)
	assert.Equal(t, 4, z.Coverage().Nodes)
	for _, c := range []struct {
		name     string
		lon, lat float64
		pga      float64
		status   hazard.Status
		distance float64
	}{
		{"in the outer area", 2, 52, 0.1, 0, 0},
		{"in its hole, which is the inner area", 5, 55, 0.2, 0, 0},
		{"on its boundary", 0, 55, 0.1, 0, 0},
		{"on the boundary of both: the first that holds it", 4, 55, 0.2, 0, 0},
		{"first part of the islands", 20.5, 50.5, 0.3, 0, 0},
		{"second part, west of the antimeridian", 179.5, 50.5, 0.3, 0, 0},
		{"second part, east of it", -179.5, 50.5, 0.3, 0, 0},
		{"near the node", 30.1, 50, 0.4, hazard.NearestNode,
			geo.DistanceHaversine(orb.Point{30.1, 50}, orb.Point{30, 50})},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := look(t, z, c.lon, c.lat)
			assert.InEpsilon(t, c.pga, s.Spectra[0].PGA, rounding)
			assert.InEpsilon(t, 2.5*c.pga, s.Spectra[0].Sa(0.2), rounding)
			assert.Equal(t, c.status, s.Status)
			assert.InDelta(t, c.distance, s.Distance, 1e-3)
		})
	}
	// Nodes, where a file has them, come before boundaries.
	var out *OutsideError
	require.ErrorAs(t, z.Lookup(10.001, 55, 0, new(hazard.Site)), &out)
	assert.Equal(t, orb.Point{30, 50}, out.Nearest)
}

func TestZonesWithoutNodesReachToTheNearestArea(t *testing.T) {
	z, err := ReadZones(strings.NewReader(collection(outer, inner, islands)), "zones.geojson",
		zoneOptions(10_000))
	require.NoError(t, err)
	s := look(t, z, 10.1, 55)
	assert.Equal(t, hazard.NearestNode, s.Status)
	assert.InEpsilon(t, geo.DistanceHaversine(orb.Point{10.1, 55}, orb.Point{10, 55}), s.Distance, 1e-6)
	s = look(t, z, -178.9, 50.5) // east of the part that ends at 181
	assert.InEpsilon(t, 0.3, s.Spectra[0].PGA, rounding)
	assert.InEpsilon(t, geo.DistanceHaversine(orb.Point{-178.9, 50.5}, orb.Point{-179, 50.5}), s.Distance,
		1e-6)
	var out *OutsideError
	require.ErrorAs(t, z.Lookup(10.2, 55, 0, s), &out)
	assert.InDelta(t, 10, out.Nearest[0], 1e-9)
	assert.InDelta(t, 55, out.Nearest[1], 1e-9)

	none, err := ReadZones(strings.NewReader(collection(outer)), "zones.geojson", zoneOptions(0))
	require.NoError(t, err)
	assert.ErrorAs(t, none.Lookup(10.001, 55, 0, s), &out)
}

func TestBadZones(t *testing.T) {
	feature := func(properties string) string {
		return collection(outer, geometryOf("Polygon", "["+box(0, 0, 1, 1)+"]", properties))
	}
	shape := func(kind, coordinates string) string {
		return collection(outer, geometryOf(kind, coordinates, at475(0.1)))
	}
	for _, c := range []struct {
		name, text string
		want       want
	}{
		{"empty", "", want{line: 1, rule: "no JSON object", problems: 1}},
		{"cut off", collection(outer)[:60], want{line: 2, column: "features", rule: "feature 1",
			problems: 1}},
		{"one feature alone", outer, want{column: "type", rule: "no FeatureCollection", problems: 1}},
		{"no features", collection(), want{column: "features", rule: "there are none", problems: 1}},
		{"no geometry at all", collection(`{"type": "Feature", "geometry": null, "properties": {}}`),
			want{column: "features", rule: "none has a geometry", problems: 1}},
		{"other datum", strings.Replace(collection(outer), `"features"`,
			`"crs": {"type": "name", "properties": {"name": "EPSG:2193"}}, "features"`, 1),
			want{line: 1, column: "crs", value: "EPSG:2193", rule: "WGS 84", problems: 1}},
		{"a line", shape("LineString", "[[0,0],[1,1]]"),
			want{line: 3, column: "feature 2 (zone of 0.1): geometry", value: "LineString",
				rule: "neither area nor node", problems: 1}},
		{"open ring", shape("Polygon", "[[[0,0],[1,0],[1,1],[0,1]]]"),
			want{line: 3, column: "feature 2 (zone of 0.1): geometry", rule: "end where it begins",
				problems: 1}},
		{"no ring", shape("Polygon", "[]"), want{line: 3, column: "feature 2 (zone of 0.1): geometry",
			rule: "no ring", problems: 1}},
		{"half a position", shape("Polygon", "[[[0],[1,0],[1,1],[0]]]"),
			want{line: 3, column: "feature 2 (zone of 0.1): geometry", rule: "lacks longitude or latitude",
				problems: 1}},
		{"projected", shape("Point", "[500000, 5500000]"),
			want{line: 3, column: "feature 2 (zone of 0.1): geometry", rule: "exchanged, or projected",
				problems: 1}},
		{"no values", feature(`{}`), want{line: 3, column: "feature 2: hazard", rule: "missing",
			problems: 1}},
		{"one object", feature(`{"hazard": {"pga": 1}}`),
			want{line: 3, column: "feature 2: hazard", rule: "no array", problems: 1}},
		{"other members", feature(`{"hazard": [{"return_period_yr": 475, "pga": 0.1}]}`),
			want{line: 3, column: "feature 2: hazard[0]", rule: "those before", problems: 1}},
		{"text", feature(`{"hazard": [{"return_period_yr": 475, "pga": "0.1", "sa_0.2": 1, "sa_1": 1}]}`),
			want{line: 3, column: "feature 2: hazard[0].pga", value: `"0.1"`, rule: "not a number",
				problems: 1}},
		{"negative", feature(`{"hazard": [{"return_period_yr": 475, "pga": -0.1, "sa_0.2": 1, "sa_1": 1}]}`),
			want{line: 3, column: "feature 2: hazard[0].pga", value: "-0.1", rule: "no acceleration",
				problems: 1}},
		{"other return period",
			feature(`{"hazard": [{"return_period_yr": 975, "pga": 0.1, "sa_0.2": 1, "sa_1": 1}]}`),
			want{line: 2, column: "return_period_yr", rule: "feature 1 (zone of 0.1) lacks return period 975",
				problems: 2}},
		{"a level twice", feature(`{"hazard": [{"return_period_yr": 475, "pga": 0.1, "sa_0.2": 1, "sa_1": ` +
			`1}, {"return_period_yr": 475, "pga": 0.2, "sa_0.2": 1, "sa_1": 1}]}`),
			want{line: 3, column: "return_period_yr", value: "475",
				rule: "feature 2 stands at line 3 with other values", problems: 1}},
		{"no peak", collection(geometryOf("Point", "[0,0]",
			`{"hazard": [{"return_period_yr": 475, "sa_1": 1}]}`)),
			want{line: 2, column: "feature 1: hazard[0].pga", rule: "missing", problems: 1}},
		{"no return period", collection(geometryOf("Point", "[0,0]",
			`{"hazard": [{"pga": 475, "sa_1": 1}]}`)),
			want{line: 2, column: "feature 1: hazard[0].return_period_yr", rule: "missing", problems: 1}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := ReadZones(strings.NewReader(c.text), "bad.geojson", zoneOptions(0))
			c.want.meets(t, err, "bad.geojson")
		})
	}
}
