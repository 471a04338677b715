package output

import (
	"database/sql"
	"encoding/binary"
	"encoding/xml"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"
	"github.com/stretchr/testify/require"
)

// writeFormats writes rs as a whole run to a new folder and returns it.
func writeFormats[R any](t *testing.T, table *Table[R], rs []R, formats ...string) string {
	dir := t.TempDir()
	set, err := NewSet(dir, Claim{Plan: "plan"})
	require.NoError(t, err)
	s, err := NewSheet(set, table, About{Version: "0.1.0", Currency: "CRD", PriceDate: "2025-01"}, formats...)
	require.NoError(t, err)
	for i := range rs {
		require.NoError(t, s.Write(&rs[i]))
	}
	require.NoError(t, s.Close())
	require.NoError(t, set.Commit(&Manifest{PlanSHA256: "plan"}))
	return dir
}

func query(t *testing.T, db *sql.DB, q string) (out string) {
	var v any
	require.NoError(t, db.QueryRow(q).Scan(&v), q)
	switch v := v.(type) {
	case []byte:
		return string(v)
	case string:
		return v
	default:
		t.Fatalf("%s gives %T: cast it to text", q, v)
		return ""
	}
}

// TestGeoPackage holds the file to OGC 12-128r17 (GeoPackage 1.3), requirement by
// requirement.
func TestGeoPackage(t *testing.T) {
	rs := rows(300)
	dir := writeFormats(t, &Buildings, rs, FormatGeoPackage)
	require.Equal(t, []string{"buildings.gpkg", "buildings.qml", "buildings.sld", ManifestName}, names(t, dir), "no journal is left")
	path := filepath.Join(dir, "buildings.gpkg")
	head, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, "SQLite format 3\x00", string(head[:16]), "requirement 1")
	require.Equal(t, "GPKG", string(head[68:72]), "requirement 2: application id")
	require.EqualValues(t, 10300, binary.BigEndian.Uint32(head[60:]), "requirement 2: version")

	db, err := sql.Open("sqlite", path)
	require.NoError(t, err)
	defer db.Close()
	for q, want := range map[string]string{
		"pragma integrity_check": "ok", // requirement 6
		"select cast(count(*) as text) from pragma_foreign_key_check":                           "0",            // requirement 7
		"select group_concat(srs_id) from (select srs_id from gpkg_spatial_ref_sys order by 1)": "-1,0,4326",    // requirement 11
		"select group_concat(data_type || srs_id) from gpkg_contents":                           "features4326", // requirement 18
		"select cast(last_change as text) from gpkg_contents":                                   gpkgTime,       // requirement 15
		// Requirement 13: Table 3 with its defaults, annex C.1.
		"select dflt_value from pragma_table_info('gpkg_contents') where name = 'last_change'":                                          "strftime('%Y-%m-%dT%H:%M:%fZ','now')",
		"select geometry_type_name || srs_id || z || m from gpkg_geometry_columns":                                                      "POINT432600",                   // requirements 25 to 28
		"select group_concat(distinct extension_name) from (select * from gpkg_extensions order by 3)":                                  "gpkg_rtree_index,gpkg_schema",  // requirement 58
		"select type || pk from pragma_table_info('buildings') where name = 'fid'":                                                      "INTEGER1",                      // requirement 29
		"select cast(count(*) as text) from sqlite_master where type = 'trigger'":                                                       "6",                             // requirement 75
		"select cast(count(*) as text) from rtree_buildings_geometry":                                                                   "297",                           // rows with a point
		"select cast(count(*) as text) from buildings where geometry is null":                                                           "3",                             // 7, 108, 209
		"select building_id from buildings where fid = 3":                                                                               rs[2].ID,                        // the owner's id
		"select building_name from buildings where fid = 3":                                                                             rs[2].Name,                      // =1+1 as it was
		"select cast(count(*) as text) from buildings where building_name is null":                                                      "10",                            // of 300 in turns of 32
		"select title || description from gpkg_data_columns where column_name = 'height_m'":                                             "Height (m)height above ground", // F.9
		"select cast(count(*) as text) from buildings b join rtree_buildings_geometry r on b.fid = r.id where lon < minx or lat > maxy": "0",                             // the index covers the points
	} {
		require.Equal(t, want, query(t, db, q), q)
	}
	require.Contains(t, query(t, db, "select description from gpkg_contents"), Caution)

	// Requirement 19, clause 2.1.3: the standard well-known binary after a header
	// of 8 bytes and an envelope of 32, read by orb.
	var blob []byte
	require.NoError(t, db.QueryRow("select geometry from buildings where fid = 1").Scan(&blob))
	require.Equal(t, []byte{'G', 'P', 0, 3}, blob[:4])
	point, err := wkb.Unmarshal(blob[40:])
	require.NoError(t, err)
	g := newGeoColumn(&Buildings)
	x, y, _ := g.point(&rs[0])
	require.Equal(t, orb.Point{x, y}, point)
	require.Equal(t, x, math.Float64frombits(binary.LittleEndian.Uint64(blob[16:])))
}

func TestGeoPackageSameBytes(t *testing.T) {
	read := func() string {
		b, err := os.ReadFile(filepath.Join(writeFormats(t, &Buildings, rows(500), FormatGeoPackage), "buildings.gpkg"))
		require.NoError(t, err)
		return string(b)
	}
	first := read()
	require.True(t, first == read(), "equal rows give equal bytes")
}

func TestGeoPackageWithoutRows(t *testing.T) {
	dir := writeFormats(t, &Candidates, nil, FormatGeoPackage)
	db, err := sql.Open("sqlite", filepath.Join(dir, "candidates.gpkg"))
	require.NoError(t, err)
	defer db.Close()
	require.Equal(t, "yes", query(t, db, "select case when min_x is null then 'yes' end from gpkg_contents"))
}

// TestStyle reads the style as XML: nothing more can be said here, the schemas of
// OGC are not at hand.
func TestStyle(t *testing.T) {
	var b strings.Builder
	require.NoError(t, WriteStyle(&b, &Buildings))
	var d struct {
		Version string `xml:"version,attr"`
		Rules   []struct {
			Size float64 `xml:"PointSymbolizer>Graphic>Size"`
		} `xml:"NamedLayer>UserStyle>FeatureTypeStyle>Rule"`
	}
	require.NoError(t, xml.Unmarshal([]byte(b.String()), &d))
	require.Equal(t, "1.1.0", d.Version)
	require.Len(t, d.Rules, len(rankBands))
	require.Equal(t, 18.0, d.Rules[3].Size, "the foremost are drawn last")
}

// TestOGR opens GeoPackage and both kinds of GeoJSON with the reader of GDAL.
func TestOGR(t *testing.T) {
	if testing.Short() {
		t.Skip("starts ogrinfo")
	}
	ogrinfo, err := exec.LookPath("ogrinfo")
	if err != nil {
		t.Skip("needs ogrinfo of GDAL: apt-get install gdal-bin")
	}
	dir := writeFormats(t, &Buildings, rows(300), FormatGeoPackage, FormatGeoJSON, FormatGeoLines)
	for file, says := range map[string][]string{
		"buildings.gpkg":     {"using driver `GPKG'", "Geometry: Point", "Feature Count: 300", `ID["EPSG",4326]`, "FID Column = fid", "Geometry Column = geometry"},
		"buildings.geojson":  {"using driver `GeoJSON'", "Geometry: Point", "Feature Count: 300", `ID["EPSG",4326]`},
		"buildings.geojsonl": {"using driver `GeoJSONSeq'", "Feature Count: 300", `ID["EPSG",4326]`},
	} {
		out, err := exec.Command(ogrinfo, "-ro", "-so", "-al", filepath.Join(dir, file)).CombinedOutput()
		require.NoError(t, err, string(out))
		for _, part := range append(says, "building_id: String", "drift_pct: Real", "tied: Integer(Boolean)") {
			require.Contains(t, string(out), part, file)
		}
		require.NotContains(t, string(out), "ERROR", file)
		require.NotContains(t, string(out), "Warning", file)

		// By the spatial index: rs[1] alone stands within this box.
		box := []string{"-spat", "-39.99997", "48.00001", "-39.99996", "48.00002"}
		out, err = exec.Command(ogrinfo, append(append([]string{"-ro", "-al", "-geom=NO"}, box...), filepath.Join(dir, file))...).CombinedOutput()
		require.NoError(t, err, string(out))
		require.Equal(t, 1, strings.Count(string(out), "building_id (String) = 000007-A"), file)
		require.Equal(t, 1, strings.Count(string(out), "OGRFeature("), file)
	}
}
