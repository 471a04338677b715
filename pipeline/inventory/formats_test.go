package inventory

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/parquet-go/parquet-go"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/inventory/fault"
	"plinth/pipeline/plan"
	"plinth/retrofit"
)

// withoutLines forgets where buildings were read: a CSV counts its header.
func withoutLines(buildings []Building) []string {
	var out []string
	for _, b := range buildings {
		b.Line = 0
		out = append(out, fmt.Sprintf("%+v", b)) // NaN is not equal to itself
	}
	return out
}

// The same thirty rows give the same buildings in every format.
func TestSameRowsInEveryFormat(t *testing.T) {
	rows := madeRows(30, false)
	withColumns := func(format string) *plan.Inventory {
		inv := stockPlan(format)
		inv.Columns["lon"], inv.Columns["lat"] = "lon", "lat"
		return inv
	}
	want, wantRejects := []string(nil), 0
	for _, c := range []struct {
		name string
		doc  []byte
		inv  *plan.Inventory
	}{
		{"csv", stockCSV(rows), withColumns("csv")},
		{"geojson", stockJSON(t, rows, false), stockPlan("geojson")},
		{"geojson-lines", stockJSON(t, rows, true), stockPlan("geojson-lines")},
		{"geopackage", stockPackage(t, rows, 4326), stockPlan("geopackage")},
		{"xlsx", stockBook(t, rows, false), withColumns("xlsx")},
		{"xlsx, titles", stockBook(t, rows, true), withColumns("xlsx")},
		{"parquet, zstd", stockFlat(t, rows, &parquet.Zstd), withColumns("parquet")},
		{"parquet, plain", stockFlat(t, rows, &parquet.Uncompressed), withColumns("parquet")},
		{"geoparquet 1.0", stockGeo(t, rows, "1.0.0", &parquet.Snappy), stockPlan("parquet")},
		{"geoparquet 1.1", stockGeo(t, rows, "1.1.0", &parquet.Gzip), stockPlan("parquet")},
	} {
		for _, batch := range []int{1, 100} {
			r, err := openBytes(t, c.doc, c.inv, Options{BatchRows: batch})
			require.NoError(t, err, c.name)
			buildings, rejects, rep := read(t, r)
			require.Equal(t, 30, rep.Tally.In, c.name)
			if want == nil {
				want, wantRejects = withoutLines(buildings), len(rejects)
				require.Equal(t, 6, wantRejects, "adobe is not mapped, and there is no outline to take an area from")
			}
			require.Equal(t, want, withoutLines(buildings), c.name)
			require.Equal(t, wantRejects, len(rejects), c.name)
		}
	}
}

// The same outlines give the same buildings in every format that has them.
func TestSameOutlinesInEveryFormat(t *testing.T) {
	rows := madeRows(30, true)
	var want []string
	for name, doc := range map[string][]byte{
		"geojson": stockJSON(t, rows, false), "geojson-lines": stockJSON(t, rows, true), "geopackage": stockPackage(t, rows, 4326),
		"parquet": stockGeo(t, rows, "1.1.0", &parquet.Zstd),
	} {
		r, err := openBytes(t, doc, stockPlan(name), Options{})
		require.NoError(t, err, name)
		buildings, rejects, _ := read(t, r)
		require.Len(t, rejects, 3, name) // adobe
		if want == nil {
			want = withoutLines(buildings)
		}
		require.Equal(t, want, withoutLines(buildings), name)
		assert.Equal(t, Derived, buildings[0].Origin[Footprint])
	}
}

// Files in another reference system, of another kind or version are refused with
// what to do.
func TestFormatMessages(t *testing.T) {
	rows := madeRows(3, false)
	geo := func(from, to string) []byte {
		out := []geoRow{{Ref: "1"}}
		return written(t, out, parquet.KeyValueMetadata("geo", strings.Replace(geoKey("1.1.0"), from, to, 1)))
	}
	for name, c := range map[string]struct {
		doc    []byte
		format string
		edit   func(*plan.Inventory)
		want   string
	}{
		"grid metres":       {stockPackage(t, rows, 2193), "geopackage", nil, "its coordinates are in a system that is not read (EPSG:2193); reproject the register to EPSG:4326"},
		"no such layer":     {stockPackage(t, rows, 4326), "geopackage", func(i *plan.Inventory) { i.Layer = "bildings" }, "inventory.layer: no such table of features (bildings); did you mean buildings?"},
		"no unit":           {stockPackage(t, rows, 4326), "geopackage", func(i *plan.Inventory) { delete(i.Units, "height") }, "its cells are such as 3.75, 7.25, 10.75"},
		"no column":         {stockPackage(t, rows, 4326), "geopackage", func(i *plan.Inventory) { i.Columns["height"] = "hgt" }, "the register has no such column"},
		"not a geopackage":  {[]byte(strings.Repeat("x", 200)), "geopackage", nil, "this is no GeoPackage"},
		"not a parquet":     {[]byte(strings.Repeat("x", 200)), "parquet", nil, "not a Parquet file that can be read: it does not begin and end with PAR1"},
		"csv asked for":     {stockPackage(t, rows, 4326), "csv", nil, `write format = "geopackage"`},
		"no unit, parquet":  {stockGeo(t, rows, "1.0.0", &parquet.Snappy), "parquet", func(i *plan.Inventory) { delete(i.Units, "height") }, "its cells are such as 3.75, 7.25, 10.75"},
		"parquet asked for": {stockGeo(t, rows, "1.0.0", &parquet.Snappy), "csv", nil, `write format = "parquet"`},
		"crs":               {geo(`"OGC","code":"CRS84"`, `"EPSG","code":2193`), "parquet", nil, "its coordinates are in a system that is not read (EPSG:2193)"},
		"unknown crs":       {geo(`"crs":{"id":{"authority":"OGC","code":"CRS84"}}`, `"crs":null`), "parquet", nil, `inventory.crs: the register says that the system of its coordinates is not known; write it under [inventory]`},
		"encoding":          {geo(`WKB`, `polygon`), "parquet", nil, "geometries in an encoding that is not read (polygon); write them as WKB"},
		"version":           {geo(`1.1.0`, `2.0.0`), "parquet", nil, "a version of GeoParquet that is not read (2.0.0)"},
		"column missing":    {geo(`"primary_column":"geometry"`, `"primary_column":"shape"`), "parquet", nil, "names no column of geometries"},
		"no geometry":       {written(t, []flatRow{{}}), "parquet", nil, "inventory.columns.lon: no column given for it"},
		"delta": {written(t, []struct {
			Ref      [16]byte `parquet:"ref,uuid,delta"`
			Lon, Lat float64
		}{{}}), "parquet", func(i *plan.Inventory) {
			i.Columns = map[string]string{"id": "ref", "lon": "Lon", "lat": "Lat"}
			i.Units, i.Values = nil, nil
		},
			"column ref, row group 1: its values are written as DELTA_BYTE_ARRAY, which is not read; write it packed"},
		"lz4": {stockGeo(t, rows, "1.0.0", &parquet.Lz4Raw), "parquet", nil, "packed by LZ4_RAW, which is not read; write it packed by zstd"},
	} {
		inv := stockPlan(c.format)
		if c.edit != nil {
			c.edit(inv)
		}
		r, err := openBytes(t, c.doc, inv, Options{})
		if err == nil {
			err = r.Next(new(Raw))
		}
		require.Error(t, err, name)
		assert.Contains(t, err.Error(), c.want, name)
		var fe *fault.FileError
		assert.True(t, errors.As(err, &fe), name)
	}
	for _, format := range []string{"geopackage", "parquet"} {
		_, err := NewReader(io.MultiReader(), "stream", stockPlan(format), Options{})
		require.ErrorContains(t, err, "is read from a file, not from a stream")
	}
}

// A typedRow has the types and encodings that other writers use.
type typedRow struct {
	Ref    string  `parquet:"ref,delta"`
	Plain  string  `parquet:"plain"`
	Lon    float64 `parquet:"lon,split"`
	Lat    float64 `parquet:"lat,split"`
	Floors int64   `parquet:"floors,delta"`
	Area   float32 `parquet:"area"`
	Cost   int64   `parquet:"cost,decimal(2:18)"`
	Works  int64   `parquet:"works,timestamp(microsecond)"`
	Opened int32   `parquet:"opened,date"`
	Old    bool    `parquet:"old"`
	People uint32  `parquet:"people"`
}

var typedRows = []typedRow{{"B1", "B1", -150.1234, 40.1234, 3, 1000.1, 123456789, 946684800e6, 7304, true, 400}}

// Numbers, decimals, dates, moments and truth values are cells of text.
func TestParquetTypes(t *testing.T) {
	inv := &plan.Inventory{
		Format: "parquet",
		Columns: map[string]string{"id": "plain", "lon": "lon", "lat": "lat", "storeys": "floors", "floor_area": "area", "value": "cost",
			"year_strengthened": "works", "year": "opened", "heritage": "old", "occupants_day": "people"},
		Units:  map[string]string{"floor_area": "m2"},
		Assume: map[string]string{"system": "unknown-mix"},
	}
	r, err := openBytes(t, written(t, typedRows), inv, Options{})
	require.NoError(t, err)
	buildings, _, _ := read(t, r)
	require.Len(t, buildings, 1)
	b := &buildings[0]
	assert.Equal(t, 1000.1, b.FloorArea, "the shortest decimal of the float32")
	assert.Equal(t, 1234567.89, b.Value)
	assert.Equal(t, 1989, b.Year, "day 7304 from 1970 is 1989-12-31")
	assert.Equal(t, 2000, b.YearStrengthened)
	assert.Equal(t, 3, b.Storeys)
	assert.Equal(t, retrofit.Yes, b.Heritage)
	assert.Equal(t, 400.0, b.OccupantsDay)
}

// A line that is no feature costs itself.
func TestFeatureLines(t *testing.T) {
	good := strings.Split(strings.TrimSpace(string(stockJSON(t, madeRows(3, false), true))), "\n")
	doc := "\ufeff" + good[0] + "\n\n{\"type\":\n17\n" + "\x1e" + good[1] + "\r\n" + good[2] + " " + good[2] + "\n" + `{"type":"FeatureCollection"}` + "\n" + good[2]
	r, err := NewReader(strings.NewReader(doc), "register", stockPlan("geojson-lines"), Options{})
	require.NoError(t, err)
	buildings, rejects, _ := read(t, r)
	assert.Len(t, buildings, 3)
	require.Len(t, rejects, 4)
	for i, want := range []string{"the line is not JSON", "number where", "more than one feature", "not a feature"} {
		assert.Contains(t, rejects[i].Error(), want)
	}
}

// mutated returns doc damaged in one of five ways.
func mutated(r *rand.Rand, doc []byte) []byte {
	out := append([]byte(nil), doc...)
	at := r.IntN(len(out))
	switch r.IntN(5) {
	case 0:
		return out[:at]
	case 1:
		out[at] = byte(r.Uint32())
	case 2:
		out[len(out)-1-r.IntN(len(out)/3)] ^= 1 << r.IntN(8) // most likely the footer
	case 3:
		for range 10 {
			out[r.IntN(len(out))] = byte(r.Uint32())
		}
	case 4:
		clear(out[at:min(at+400, len(out))])
	}
	return out
}

// readDamaged reads what it can and returns the error, nil for a clean end. Rows
// are conserved up to the damage.
func readDamaged(t failer, r *Reader) error {
	var raw Raw
	var b Batch
	err := r.Read(&raw, &b)
	for ; err == nil; err = r.Read(&raw, &b) {
		require.Equal(t, b.Rows, len(b.Buildings)+len(b.Rejects))
		for i := range b.Buildings {
			checkBuilding(t, &b.Buildings[i])
		}
	}
	rep := r.Report()
	require.NoError(t, rep.Tally.Check())
	if err == io.EOF {
		return nil
	}
	var fe *fault.FileError
	require.True(t, errors.As(err, &fe), "%v", err)
	require.NotEmpty(t, fe.Remedy)
	return err
}

// Three hundred damaged Parquet files end in an error or in whole rows: none ends
// the process, and none takes memory.
func TestDamagedParquet(t *testing.T) {
	if testing.Short() {
		t.Skip("damages many files")
	}
	rows := madeRows(30, true)
	flat := madeRows(30, false)
	docs := [][]byte{stockGeo(t, rows, "1.0.0", &parquet.Uncompressed), stockGeo(t, rows, "1.1.0", &parquet.Snappy), stockGeo(t, rows, "1.1.0", &parquet.Zstd),
		stockFlat(t, flat, &parquet.Uncompressed), stockFlat(t, flat, &parquet.Gzip)}
	r := rand.New(rand.NewPCG(1, 2))
	path := filepath.Join(t.TempDir(), "register")
	failed, most := 0, uint64(0)
	for i := range 300 {
		inv := stockPlan("parquet")
		if i%len(docs) >= 3 {
			inv.Columns["lon"], inv.Columns["lat"] = "lon", "lat"
		}
		inv.Path = path
		require.NoError(t, os.WriteFile(path, mutated(r, docs[i%len(docs)]), 0o600))
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		reader, err := Open(inv, Options{})
		if err == nil {
			err = readDamaged(t, reader)
			require.NoError(t, reader.Close())
		}
		runtime.ReadMemStats(&after)
		most = max(most, after.TotalAlloc-before.TotalAlloc)
		if err != nil {
			failed++
		}
	}
	t.Logf("%d of 300 ended in an error, at most %d kB taken", failed, most>>10)
	assert.Greater(t, failed, 100, "every truncation and most damage of footers")
	// A whole file takes some hundred kB; a length that was believed takes
	// hundreds of MB.
	assert.Less(t, most, uint64(32<<20))
}

// Three hundred damaged GeoPackages end likewise.
func TestDamagedGeoPackage(t *testing.T) {
	if testing.Short() {
		t.Skip("damages many files")
	}
	doc := stockPackage(t, madeRows(30, true), 4326)
	r := rand.New(rand.NewPCG(3, 4))
	failed := 0
	for range 300 {
		reader, err := openBytes(t, mutated(r, doc), stockPlan("geopackage"), Options{})
		if err == nil {
			err = readDamaged(t, reader)
		}
		if err != nil {
			failed++
		}
	}
	assert.Greater(t, failed, 60)
}

func FuzzParquet(f *testing.F) {
	rows := madeRows(4, true)
	f.Add(stockGeo(f, rows, "1.1.0", &parquet.Uncompressed))
	f.Add(stockGeo(f, rows, "1.0.0", &parquet.Snappy))
	f.Add(stockGeo(f, rows, "1.0.0", &parquet.Brotli))
	f.Fuzz(func(t *testing.T, doc []byte) { readAny(t, bytes.NewReader(doc), len(doc), stockPlan("parquet")) })
}

// A GeoPackage is read from a file: one for all runs of a worker.
func FuzzGeoPackage(f *testing.F) {
	f.Add(stockPackage(f, madeRows(2, true), 4326))
	path := filepath.Join(f.TempDir(), "register")
	f.Fuzz(func(t *testing.T, doc []byte) {
		require.NoError(t, os.WriteFile(path, doc, 0o600))
		in, err := os.Open(path)
		require.NoError(t, err)
		defer in.Close()
		readAny(t, in, len(doc), stockPlan("geopackage"))
	})
}

func FuzzFeatureLines(f *testing.F) {
	f.Add(stockJSON(f, madeRows(4, true), true))
	f.Add([]byte("\x1e{}\n\n17\n{\"type\":\"Feature\"}"))
	f.Fuzz(func(t *testing.T, doc []byte) { readAny(t, bytes.NewReader(doc), len(doc), stockPlan("geojson-lines")) })
}

// mostTaken is what the reading of a small file may take: pages of a Parquet file may
// say 128 MB, a length that is believed takes a GB.
const mostTaken = 512 << 20

// readAny reads what it can of a register of so many bytes: rows are conserved, errors
// name the file, and memory is bounded.
func readAny(t *testing.T, in io.Reader, size int, inv *plan.Inventory) {
	got := taken(func() {
		r, err := NewReader(in, "register", inv, Options{BatchRows: 2})
		if err == nil {
			readDamaged(t, r)
			require.NoError(t, r.Close())
			return
		}
		var fe *fault.FileError
		require.True(t, errors.As(err, &fe), "%v", err)
	})
	require.Less(t, got, uint64(mostTaken), "bytes taken for %d", size)
}
