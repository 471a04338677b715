package inventory

import (
	"bytes"
	"database/sql"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/parquet-go/parquet-go"
	"github.com/parquet-go/parquet-go/compress"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/plan"
)

// A stockRow is one row of a made-up register that the tests write in every
// format. A nil cell is one the register leaves empty.
type stockRow struct {
	Ref    string
	Name   *string
	Built  *string
	Floors *int64
	Height *float64
	Area   *float64
	Type   string
	At     orb.Geometry
}

func ptr[T any](v T) *T { return &v }

// madeRows makes n rows, some of them dirty, with points or outlines.
func madeRows(n int, outlines bool) []stockRow {
	rows := make([]stockRow, n)
	for i := range rows {
		at := orb.Point{math.Round((-150.1234567+float64(i)*0.001)*1e7) / 1e7, 40.1234567}
		r := stockRow{
			Ref: fmt.Sprintf("%03d-A", i), Name: ptr(fmt.Sprintf("Māori Hall №%d; \"east\", old", i)), Built: ptr(fmt.Sprint(1930 + i)),
			Floors: ptr(int64(1 + i%7)), Height: ptr(3.5*float64(1+i%7) + 0.25), Area: ptr(1000.5 + float64(i)), Type: "RC", At: at,
		}
		switch i % 10 {
		case 3:
			r.Name, r.Built = nil, ptr("c. 1950")
		case 4:
			r.Height = nil
		case 5:
			r.Floors, r.Built = nil, ptr("000000")
		case 6:
			r.Type = "adobe" // not mapped: rejected
		case 7:
			r.Area = nil
		}
		if outlines {
			w, h := 0.0002, 0.0001*float64(1+i%3)
			r.At = orb.Polygon{{at, {at[0] + w, at[1]}, {at[0] + w, at[1] + h}, {at[0], at[1] + h}, at}}
		}
		rows[i] = r
	}
	return rows
}

func stockPlan(format string) *plan.Inventory {
	return &plan.Inventory{
		Format: format, Delimiter: ",", Encoding: "utf-8",
		Columns: map[string]string{"id": "ref", "name": "name", "year": "built", "storeys": "floors", "height": "height", "floor_area": "area", "system": "type"},
		Units:   map[string]string{"height": "m", "floor_area": "m2"},
		Values:  map[string]map[string]string{"system": {"RC": "concrete-frame"}},
	}
}

func text[T any](p *T) string {
	if p == nil {
		return ""
	}
	return fmt.Sprint(*p)
}

func stockCSV(rows []stockRow) []byte {
	var b strings.Builder
	b.WriteString("ref,name,lon,lat,built,floors,height,area,type\n")
	for _, r := range rows {
		p := r.At.(orb.Point)
		fmt.Fprintf(&b, "%s,\"%s\",%v,%v,%s,%s,%s,%s,%s\n", r.Ref, strings.ReplaceAll(text(r.Name), `"`, `""`), p[0], p[1], text(r.Built), text(r.Floors), text(r.Height), text(r.Area), r.Type)
	}
	return []byte(b.String())
}

// stockJSON writes one collection, or one feature a line.
func stockJSON(t testing.TB, rows []stockRow, lines bool) []byte {
	var features []string
	for _, r := range rows {
		line, err := json.Marshal(map[string]any{
			"type": "Feature", "geometry": map[string]any{"type": r.At.GeoJSONType(), "coordinates": r.At},
			"properties": map[string]any{"ref": r.Ref, "name": r.Name, "built": r.Built, "floors": r.Floors, "height": r.Height, "area": r.Area, "type": r.Type},
		})
		require.NoError(t, err)
		features = append(features, string(line))
	}
	if lines {
		return []byte(strings.Join(features, "\n") + "\n")
	}
	return []byte(collection(features...))
}

// stockPackage writes a GeoPackage with the tables OGC 12-128r19 asks for.
func stockPackage(t testing.TB, rows []stockRow, srs int) []byte {
	path := filepath.Join(t.TempDir(), "made.gpkg")
	db, err := sql.Open("sqlite", "file:"+path)
	require.NoError(t, err)
	do := func(query string, args ...any) {
		_, err := db.Exec(query, args...)
		require.NoError(t, err, query)
	}
	do(`PRAGMA page_size = 512`) // the smallest, for the fuzzing
	do(`PRAGMA application_id = 0x47504B47`)
	do(`CREATE TABLE gpkg_spatial_ref_sys (srs_name TEXT, srs_id INTEGER PRIMARY KEY, organization TEXT, organization_coordsys_id INTEGER, definition TEXT)`)
	do(`INSERT INTO gpkg_spatial_ref_sys VALUES ('x', ?, 'EPSG', ?, '')`, srs, srs)
	do(`CREATE TABLE gpkg_contents (table_name TEXT PRIMARY KEY, data_type TEXT, srs_id INTEGER)`)
	do(`INSERT INTO gpkg_contents VALUES ('buildings', 'features', ?)`, srs)
	do(`CREATE TABLE gpkg_geometry_columns (table_name TEXT, column_name TEXT, geometry_type_name TEXT, srs_id INTEGER, z INTEGER, m INTEGER)`)
	do(`INSERT INTO gpkg_geometry_columns VALUES ('buildings', 'geom', 'GEOMETRY', ?, 0, 0)`, srs)
	do(`CREATE TABLE buildings (fid INTEGER PRIMARY KEY, geom BLOB, ref TEXT, name TEXT, built DATE, floors MEDIUMINT, height DOUBLE, area DOUBLE, "type" TEXT)`)
	for i, r := range rows {
		do(`INSERT INTO buildings VALUES (?,?,?,?,?,?,?,?,?)`, i+1, packageBlob(r.At, srs), r.Ref, r.Name, r.Built, r.Floors, r.Height, r.Area, r.Type)
	}
	require.NoError(t, db.Close())
	out, err := os.ReadFile(path)
	require.NoError(t, err)
	return out
}

// packageBlob is a geometry of a GeoPackage, with an envelope every second time.
func packageBlob(g orb.Geometry, srs int) []byte {
	b := []byte{'G', 'P', 0, 1}
	if _, polygon := g.(orb.Polygon); polygon {
		b[3] |= 1 << 1
	}
	b = binary.LittleEndian.AppendUint32(b, uint32(srs))
	if b[3]&2 != 0 {
		box := g.Bound()
		for _, x := range []float64{box.Min[0], box.Max[0], box.Min[1], box.Max[1]} {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(x))
		}
	}
	return append(b, wkb.MustMarshal(g)...)
}

type stockBox struct {
	XMin, YMin, XMax, YMax float64
}

// Rows of a Parquet file: plain with lon and lat, and GeoParquet with a geometry
// and a nested box.
type flatRow struct {
	Ref    string   `parquet:"ref"`
	Name   *string  `parquet:"name,optional"`
	Lon    float64  `parquet:"lon,split"`
	Lat    float64  `parquet:"lat"`
	Built  *string  `parquet:"built,optional,dict"`
	Floors *int64   `parquet:"floors,optional"`
	Height *float64 `parquet:"height,optional"`
	Area   *float64 `parquet:"area,optional"`
	Type   string   `parquet:"type,dict"`
	Tags   []string `parquet:"tags"`
}

type geoRow struct {
	Ref      string   `parquet:"ref"`
	Box      stockBox `parquet:"bbox"`
	Name     *string  `parquet:"name,optional"`
	Built    *string  `parquet:"built,optional,dict"`
	Geometry []byte   `parquet:"geometry,optional"`
	Floors   *int64   `parquet:"floors,optional"`
	Height   *float64 `parquet:"height,optional"`
	Area     *float64 `parquet:"area,optional"`
	Type     string   `parquet:"type,dict"`
}

// geoKey is the key "geo" of GeoParquet 1.0 and 1.1.
func geoKey(version string) string {
	more := ""
	if version >= "1.1" {
		more = `,"covering":{"bbox":{"xmin":["bbox","xmin"],"ymin":["bbox","ymin"],"xmax":["bbox","xmax"],"ymax":["bbox","ymax"]}},"crs":{"id":{"authority":"OGC","code":"CRS84"}}`
	}
	return `{"version":"` + version + `","primary_column":"geometry","columns":{"geometry":{"encoding":"WKB","geometry_types":[]` + more + `}}}`
}

func stockFlat(t testing.TB, rows []stockRow, codec compress.Codec) []byte {
	var out []flatRow
	for _, r := range rows {
		p := r.At.(orb.Point)
		out = append(out, flatRow{r.Ref, r.Name, p[0], p[1], r.Built, r.Floors, r.Height, r.Area, r.Type, []string{"a", "b"}})
	}
	return written(t, out, parquet.Compression(codec))
}

func stockGeo(t testing.TB, rows []stockRow, version string, codec compress.Codec) []byte {
	return stockGeoWith(t, rows, geoKey(version), parquet.Compression(codec), parquet.DataPageVersion(1+int(version[2]-'0')))
}

func stockGeoWith(t testing.TB, rows []stockRow, key string, options ...parquet.WriterOption) []byte {
	var out []geoRow
	for _, r := range rows {
		b := r.At.Bound()
		out = append(out, geoRow{r.Ref, stockBox{b.Min[0], b.Min[1], b.Max[0], b.Max[1]}, r.Name, r.Built, wkb.MustMarshal(r.At), r.Floors, r.Height, r.Area, r.Type})
	}
	return written(t, out, append(options, parquet.KeyValueMetadata("geo", key))...)
}

func written[R any](t testing.TB, rows []R, options ...parquet.WriterOption) []byte {
	var b bytes.Buffer
	group := int64(13) // several groups, but not for the benchmarks
	if len(rows) > 1000 {
		group = 10000
	}
	w := parquet.NewGenericWriter[R](&b, append(options, parquet.MaxRowsPerRowGroup(group))...)
	_, err := w.Write(rows)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	return b.Bytes()
}

// openBytes opens a register from a file of its own.
func openBytes(t testing.TB, doc []byte, inv *plan.Inventory, opt Options) (*Reader, error) {
	t.Helper()
	inv.Path = filepath.Join(t.TempDir(), "register")
	require.NoError(t, os.WriteFile(inv.Path, doc, 0o600))
	r, err := Open(inv, opt)
	if err == nil {
		t.Cleanup(func() { r.Close() })
	}
	return r, err
}
