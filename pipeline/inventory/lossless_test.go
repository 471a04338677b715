package inventory

import (
	"context"
	"database/sql"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/parquet-go/parquet-go"
	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/plan"
)

const somewhere = `{"type":"Point","coordinates":[-150.1,40.2345]}`

// A collection ends with its file: whatever stands behind it, or behind its features, is
// an error and never passed over.
func TestCollectionIsTheWholeFile(t *testing.T) {
	one := collection(geoFeature("B1", somewhere))
	for text, want := range map[string]string{
		one + one:                              "something stands behind the end of the collection",
		one + "\n" + geoFeature("B2", "null"):  "something stands behind the end of the collection",
		one + "xyz":                            "something stands behind the end of the collection",
		one + "]":                              "something stands behind the end of the collection",
		one[:len(one)-1] + `,"features":[17]}`: "a second member called features",
	} {
		r, err := NewReader(strings.NewReader(text), "register.json", geoPlan(), Options{})
		if err == nil {
			err = readDamaged(t, r)
		}
		require.ErrorContains(t, err, want, text)
		assert.ErrorContains(t, err, "put all features into one collection", text)
	}
	r := open(t, one+" \r\n\t\n", geoPlan(), Options{})
	buildings, _, _ := read(t, r)
	assert.Len(t, buildings, 1)
}

// A name that stands twice, or half of a pair of surrogates, costs its feature: of both the
// decoder of JSON would lose one (RFC 8259 clauses 4 and 8.2).
func TestNothingInAFeatureIsLost(t *testing.T) {
	good := geoFeature("B1", somewhere)
	for _, lines := range []bool{false, true} {
		for from, to := range map[string]string{
			`"built":1965`:                `"built":1965,"built":2020`,
			`"floors":4`:                  `"floors":4,"fl\u006fors":9`,
			`"type":"Point"`:              `"type":"Point","type":"Point"`,
			`"coordinates":[-150.1`:       `"Coordinates":[1,2],"coordinates":[-150.1`,
			`"properties":{`:              `"properties":{},"Properties":{`,
			`"type":"Feature"`:            `"type":"Feature","type":"Feature"`,
			`"name":"Old Hall"`:           `"name":"Old \ud83c Hall"`,
			`"name":"Old Hall","built":`:  `"name":"\udfe0\ud83c","built":`,
			`"name":"Old Hall","floors":`: `"name":"\\\udfe0","floors":`,
		} {
			bad := strings.Replace(good, from, to, 1)
			if bad == good {
				bad = strings.Replace(good, `"name":"Old Hall"`, `"name":"\\\udfe0"`, 1)
			}
			doc, inv := collection(bad, geoFeature("B2", strings.Replace(somewhere, "0.1", "0.2", 1))), geoPlan()
			if lines {
				doc, inv.Format = bad+"\n"+geoFeature("B2", strings.Replace(somewhere, "0.1", "0.2", 1)), "geojson-lines"
			}
			buildings, rejects, _ := read(t, open(t, doc, inv, Options{}))
			require.Len(t, rejects, 1, bad)
			assert.Equal(t, BadFeature, rejects[0].Rule, bad)
			assert.Len(t, buildings, 1, bad)
		}
	}
	for _, whole := range []string{
		strings.Replace(good, "Old Hall", `\ud83c\udfe0 \\ud83c \" \u00e9`, 1),
		strings.Replace(good, `"name":"Old Hall"`, `"name":"Old Hall","Name":{"a":1,"b":[{"a":2}]}`, 1),
	} {
		require.True(t, json.Valid([]byte(whole)))
		buildings, rejects, _ := read(t, open(t, collection(whole), geoPlan(), Options{}))
		require.Empty(t, rejects, whole)
		assert.Len(t, buildings, 1, whole)
	}
}

// A point that a program wrote as one of many is a point, in every format; what is no
// place of one building is named in words (OGC 06-103r4 Table 7).
func TestManyPoints(t *testing.T) {
	shapes := []orb.Geometry{
		orb.MultiPoint{{-150.1234, 40.1234}}, orb.MultiPoint{{-150, 40}, {-150, 41}}, orb.MultiPoint{},
		orb.LineString{{-150, 40}, {-150, 41}}, orb.Collection{orb.Point{-150, 40}},
	}
	rows := madeRows(len(shapes), false)
	for i := range rows {
		rows[i].At, rows[i].Type = shapes[i], "RC"
	}
	for name, doc := range map[string][]byte{
		"geopackage": stockPackage(t, rows, 4326), "parquet": stockGeo(t, rows, "1.1.0", &parquet.Snappy), "geojson": stockJSON(t, rows, false),
	} {
		r, err := openBytes(t, doc, stockPlan(name), Options{})
		require.NoError(t, err, name)
		buildings, rejects, _ := read(t, r)
		require.Len(t, buildings, 1, name)
		assert.Equal(t, orb.Point{-150.1234, 40.1234}, orb.Point{buildings[0].Lon, buildings[0].Lat}, name)
		require.Len(t, rejects, 4, name)
		for i, want := range []string{"a MultiPoint of 2 points", "no longitude or latitude", "(a LineString)", "(a GeometryCollection)"} {
			assert.Contains(t, rejects[i].Error(), want, name)
		}
		assert.Contains(t, rejects[2].Error(), "take the centroid or the polygon", name)
	}
}

// A journal that holds pages of a GeoPackage belongs to it: without, the file is half a
// change. One that is over begins with zeros.
func TestHotJournal(t *testing.T) {
	path := filepath.Join(t.TempDir(), "register.gpkg")
	require.NoError(t, os.WriteFile(path, stockPackage(t, madeRows(3, false), 4326), 0o600))
	inv := stockPlan("geopackage")
	inv.Path = path
	for beside, want := range map[string]string{
		"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7": "left a journal beside it", // https://sqlite.org/fileformat2.html 3
		"":                                 "", "\x00\x00\x00\x00": "",
	} {
		require.NoError(t, os.WriteFile(path+"-journal", []byte(beside), 0o600))
		r, err := Open(inv, Options{})
		if want != "" {
			require.ErrorContains(t, err, want)
			continue
		}
		require.NoError(t, err)
		require.NoError(t, r.Close())
	}
}

// changed returns a GeoPackage of three rows after some SQL.
func changed(t *testing.T, statements ...string) []byte {
	path := filepath.Join(t.TempDir(), "changed.gpkg")
	require.NoError(t, os.WriteFile(path, stockPackage(t, madeRows(3, false), 4326), 0o600))
	db, err := sql.Open("sqlite", "file:"+path)
	require.NoError(t, err)
	for _, s := range append([]string{"PRAGMA legacy_alter_table=on"}, statements...) {
		_, err := db.Exec(s)
		require.NoError(t, err, s)
	}
	require.NoError(t, db.Close())
	doc, err := os.ReadFile(path)
	require.NoError(t, err)
	return doc
}

// What the standard calls a table must be one, and a list of tables has an end.
func TestEndlessLists(t *testing.T) {
	endless := "WITH RECURSIVE x(i) AS (SELECT 1 UNION ALL SELECT i+1 FROM x) "
	for name, doc := range map[string][]byte{
		"the table gpkg_contents": changed(t, "ALTER TABLE gpkg_contents RENAME TO old",
			"CREATE VIEW gpkg_contents AS "+endless+"SELECT old.* FROM x, old"),
		"the table gpkg_geometry_columns": changed(t, "ALTER TABLE gpkg_geometry_columns RENAME TO old",
			"CREATE VIEW gpkg_geometry_columns AS "+endless+"SELECT old.* FROM x, old"),
		"more than 10000 tables": changed(t, "INSERT INTO gpkg_contents "+endless+"SELECT 't'||i, 'features', 4326 FROM x LIMIT 10001"),
	} {
		_, err := openBytes(t, doc, stockPlan("geopackage"), Options{})
		require.ErrorContains(t, err, name)
	}
}

// An endlessRegister gives rows as long as it is read.
type endlessRegister struct {
	head, row string
	left      string
}

func (e *endlessRegister) Read(p []byte) (int, error) {
	if e.left = e.head + e.left; e.left == "" {
		e.left = strings.Repeat(e.row, 100)
	}
	e.head = ""
	n := copy(p, e.left)
	e.left = e.left[n:]
	return n, nil
}

// The end of the context ends the reading of any format within a batch, whose rows would
// never be enough, and with its own error.
func TestContextEndsReading(t *testing.T) {
	withColumns := func(format string) *plan.Inventory {
		inv := stockPlan(format)
		inv.Columns["lon"], inv.Columns["lat"] = "lon", "lat"
		return inv
	}
	rows := madeRows(20, false)
	csv := string(stockCSV(rows[:1]))
	head, row, _ := strings.Cut(csv, "\n")
	feature := strings.TrimSpace(string(stockJSON(t, rows[:1], true)))
	file := func(doc []byte) io.Reader {
		path := filepath.Join(t.TempDir(), "register")
		require.NoError(t, os.WriteFile(path, doc, 0o600))
		f, err := os.Open(path)
		require.NoError(t, err)
		t.Cleanup(func() { f.Close() })
		return f
	}
	for name, c := range map[string]struct {
		in  io.Reader
		inv *plan.Inventory
	}{
		"csv":           {&endlessRegister{head: head + "\n", row: row}, withColumns("csv")},
		"geojson":       {&endlessRegister{head: `{"features":[` + feature, row: "," + feature}, stockPlan("geojson")},
		"geojson-lines": {&endlessRegister{row: feature + "\n"}, stockPlan("geojson-lines")},
		"geopackage":    {file(stockPackage(t, rows, 4326)), stockPlan("geopackage")},
		"parquet":       {file(stockGeo(t, rows, "1.1.0", &parquet.Snappy)), stockPlan("parquet")},
	} {
		ctx, stop := context.WithCancel(t.Context())
		r, err := NewReader(c.in, "register", c.inv, Options{Context: ctx, BatchRows: 1 << 30})
		require.NoError(t, err, name)
		if name == "geopackage" || name == "parquet" { // they have an end
			stop()
		}
		time.AfterFunc(10*time.Millisecond, stop)
		require.ErrorIs(t, r.Next(new(Raw)), context.Canceled, name)
		_, err = NewReader(c.in, "register", c.inv, Options{Context: ctx})
		require.ErrorIs(t, err, context.Canceled, name)
	}
}

// A bare carriage return between two rows of a file of line feeds ends a row: no building
// is lost. Within a cell it ends nothing.
func TestBareReturnBetweenRows(t *testing.T) {
	second := strings.NewReplacer("B1", "B2", "-150.1234", "-150.2345").Replace(smallRow)
	one, two := strings.TrimSuffix(smallRow, "\n"), strings.TrimSuffix(second, "\n")
	third := strings.NewReplacer("B1", "B3", "-150.1234", "-150.3456").Replace(smallRow)
	empty := strings.TrimSuffix(one, "office")
	for name, c := range map[string]struct {
		text            string
		buildings, rows int
	}{
		"between":        {one + "\r" + two + "\n" + third, 3, 3},
		"empty cell":     {empty + "\r" + two + "\r\n" + third, 3, 3},
		"quoted":         {one[:len(one)-6] + `"office"` + "\r" + `"B2"` + two[2:] + "\n" + third, 3, 3},
		"three":          {one + "\r" + two + "\r" + third, 3, 3},
		"one short":      {one + "\rB2,too,short\n" + third, 2, 3},
		"within a cell":  {strings.Replace(one, "Old", "Old\r", 1) + "\n" + third, 2, 2},
		"ragged":         {strings.Replace(one, "Old", "Old\r,,", 1) + "\n" + third, 1, 2},
		"at the end too": {one + "\r" + two + "\r\r\n\r\n" + third, 3, 3},
	} {
		for _, batch := range []int{1, 100} {
			r := open(t, smallHeader+c.text, smallPlan(), Options{BatchRows: batch})
			buildings, rejects, report := read(t, r)
			assert.Len(t, buildings, c.buildings, name)
			assert.Equal(t, c.rows, report.Tally.In, name)
			assert.Len(t, rejects, c.rows-c.buildings, name)
			assert.Equal(t, len(buildings)+len(rejects) == 3, strings.Contains(report.String(), "bare carriage return"), name)
			if n := len(buildings); n > 0 && buildings[n-1].ID == "B3" && name != "three" {
				assert.Equal(t, 3+strings.Count(c.text, "\r\n\r\n"), buildings[n-1].Line, name)
			}
		}
	}
}

// A building says which of its cells could not be used.
func TestUnusedCells(t *testing.T) {
	buildings, _, _ := read(t, open(t, smallHeader+strings.NewReplacer("14", "tall", "office", "orrery").Replace(smallRow), smallPlan(), Options{}))
	require.Len(t, buildings, 1)
	b := &buildings[0]
	assert.True(t, b.Unused.Has(Height) && b.Unused.Has(UseField))
	assert.Equal(t, FieldSet(1<<Height|1<<UseField), b.Unused)
	assert.Equal(t, Derived, b.Origin[Height])
	buildings, _, _ = read(t, open(t, smallHeader+strings.NewReplacer(",4,", ",9,", "1965", "n/a", "Old Hall", "n/a").Replace(smallRow), smallPlan(), Options{}))
	require.Len(t, buildings, 1)
	assert.Equal(t, FieldSet(1<<Height), buildings[0].Unused, "14 m are too low for 9 storeys; what stands for none is no value")
}

// A number that the plan takes for no value is one wherever it stands, and is said to be:
// a building of that year has none.
func TestNumbersThatStandForNone(t *testing.T) {
	inv := smallPlan()
	inv.Null = []string{"", "1965", "9999", "x"}
	text := smallHeader + smallRow + strings.NewReplacer("B1", "B2", "-150.1", "-150.2", "2000", "9999", "1965", "1970").Replace(smallRow)
	buildings, rejects, report := read(t, open(t, text, inv, Options{}))
	require.Len(t, buildings, 1)
	assert.Zero(t, buildings[0].Year)
	require.Len(t, rejects, 1)
	assert.Equal(t, MissingFloorArea, rejects[0].Rule)
	assert.Equal(t, 2, report.Tally.Rules[NullWord])
	said := strings.Join(strings.Fields(report.String()), " ")
	assert.Contains(t, said, "null holds the number 1965: wherever a cell of any field but the id says so it is taken as missing")
	assert.Equal(t, 2, strings.Count(said, "null holds the number"))
}
