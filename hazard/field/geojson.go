package field

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"

	"github.com/paulmach/orb"
)

// A feature is one feature of a GeoJSON file (RFC 7946).
type feature struct {
	number     int // first 1
	line       int
	Type       string                     `json:"type"`
	Geometry   *geometry                  `json:"geometry"`
	Properties map[string]json.RawMessage `json:"properties"`
}

type geometry struct {
	Type        string          `json:"type"`
	Coordinates json.RawMessage `json:"coordinates"`
}

// wgs84Names are the values of a crs member, which RFC 7946 has dropped, that mean the default
// of GeoJSON.
var wgs84Names = []string{
	"urn:ogc:def:crs:OGC:1.3:CRS84", "urn:ogc:def:crs:OGC::CRS84", "OGC:CRS84",
	"http://www.opengis.net/def/crs/OGC/1.3/CRS84", "urn:ogc:def:crs:EPSG::4326", "EPSG:4326",
}

// readFeatures returns the features of a collection, each with its line.
func readFeatures(data []byte, file string, ps *Problems) []feature {
	d := json.NewDecoder(bytes.NewReader(data))
	bad := func(column, value, rule, remedy string) {
		ps.add(Problem{File: file, Line: lineAt(data, d.InputOffset()), Column: column, Value: value,
			Rule: rule, Remedy: remedy})
	}
	const mend = "write a GeoJSON FeatureCollection (RFC 7946)"
	if t, err := d.Token(); err != nil || t != json.Delim('{') {
		bad("", "", "the file is no JSON object", mend)
		return nil
	}
	var all []feature
	collection := false
	for d.More() {
		key, err := d.Token()
		if err != nil {
			bad("", "", err.Error(), mend)
			return nil
		}
		switch key {
		case "features":
			all, err = decodeFeatures(d, data)
		case "crs":
			var crs struct {
				Properties struct {
					Name string `json:"name"`
				} `json:"properties"`
			}
			err = d.Decode(&crs)
			if name := crs.Properties.Name; err == nil && !slices.Contains(wgs84Names, name) {
				bad("crs", name, "only longitude and latitude on WGS 84 are read",
					"convert the file to OGC:CRS84")
			}
		case "type":
			var t string
			err = d.Decode(&t)
			collection = t == "FeatureCollection"
		default:
			var skip json.RawMessage
			err = d.Decode(&skip)
		}
		if err != nil {
			bad(fmt.Sprint(key), "", err.Error(), mend)
			return nil
		}
	}
	if _, err := d.Token(); err != nil {
		bad("", "", err.Error(), mend)
	}
	if !collection {
		ps.add(Problem{File: file, Column: "type", Rule: "the file is no FeatureCollection", Remedy: mend})
	}
	return all
}

// decodeFeatures reads the array of features at d.
func decodeFeatures(d *json.Decoder, data []byte) ([]feature, error) {
	if t, err := d.Token(); err != nil || t != json.Delim('[') {
		return nil, fmt.Errorf("features is no array")
	}
	var all []feature
	line, counted := 1, int64(0)
	for d.More() {
		f := feature{number: len(all) + 1}
		at := d.InputOffset()
		if err := d.Decode(&f); err != nil {
			return nil, fmt.Errorf("feature %d: %w", f.number, err)
		}
		for int(at) < len(data) && bytes.IndexByte([]byte(" \t\r\n,"), data[at]) >= 0 {
			at++
		}
		line += bytes.Count(data[counted:at], []byte("\n"))
		counted, f.line = at, line
		all = append(all, f)
	}
	_, err := d.Token()
	return all, err
}

// lineAt returns the line of an offset, first 1.
func lineAt(data []byte, at int64) int {
	return 1 + bytes.Count(data[:min(int(at), len(data))], []byte("\n"))
}

// polygons returns the polygons of a Polygon or MultiPolygon.
func (g *geometry) polygons() (orb.MultiPolygon, error) {
	var rings [][][][]float64
	if g.Type == "Polygon" {
		rings = make([][][][]float64, 1)
		if err := json.Unmarshal(g.Coordinates, &rings[0]); err != nil {
			return nil, err
		}
	} else if err := json.Unmarshal(g.Coordinates, &rings); err != nil {
		return nil, err
	}
	var m orb.MultiPolygon
	for _, p := range rings {
		var polygon orb.Polygon
		for _, r := range p {
			ring, err := ringOf(r)
			if err != nil {
				return nil, err
			}
			polygon = append(polygon, ring)
		}
		if len(polygon) == 0 {
			return nil, fmt.Errorf("a polygon has no ring")
		}
		m = append(m, polygon)
	}
	if len(m) == 0 {
		return nil, fmt.Errorf("the geometry is empty")
	}
	return m, nil
}

// ringOf returns a ring of positions; heights are left out.
func ringOf(positions [][]float64) (orb.Ring, error) {
	ring := make(orb.Ring, len(positions))
	for i, p := range positions {
		at, err := position(p)
		if err != nil {
			return nil, err
		}
		ring[i] = at
	}
	if len(ring) < 4 || !ring.Closed() {
		return nil, fmt.Errorf("a ring must have four positions at least and end where it begins")
	}
	return ring, nil
}

// point returns the place of a Point.
func (g *geometry) point() (orb.Point, error) {
	var p []float64
	if err := json.Unmarshal(g.Coordinates, &p); err != nil {
		return orb.Point{}, err
	}
	at, err := position(p)
	at[0], _ = place(at[0], at[1])
	return at, err
}

func position(p []float64) (orb.Point, error) {
	if len(p) < 2 {
		return orb.Point{}, fmt.Errorf("a position lacks longitude or latitude")
	}
	if _, ok := place(p[0], p[1]); !ok {
		return orb.Point{},
			fmt.Errorf("%g, %g is no longitude and latitude in degrees: are they exchanged, or projected?",
				p[0], p[1])
	}
	return orb.Point{p[0], p[1]}, nil
}
