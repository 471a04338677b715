package output

import (
	"crypto/sha256"
	"database/sql"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
)

// writeJoined writes buildings, areas, candidates and rules as one GeoPackage and returns its folder.
func writeJoined(t *testing.T) string {
	dir := t.TempDir()
	set, err := NewSet(dir, Claim{Plan: "plan"})
	require.NoError(t, err)
	about := About{Version: "0.1.0", Currency: "CRD", PriceDate: "2025-01"}
	rs := town(400)
	for i := range rs {
		rs[i].RankAsIs = int64(i + 1)
		rs[i].Describe(int64(len(rs)), nil)
	}
	candidates := make([]Candidate, 2*len(rs))
	for i := range candidates {
		c := &candidates[i]
		Candidates.Blank(c)
		c.Rank, c.BuildingID, c.Measure, c.Verdict = int64(i+1), rs[i/2].ID, []string{"viscous", "slider"}[i%2], "clear"
		c.Lon, c.Lat = rs[i/2].Lon, rs[i/2].Lat
	}
	var areas [3]Area
	for i := range areas {
		a := &areas[i]
		Areas.Blank(a)
		a.Name, a.Kind, a.Joined, a.Buildings, a.AnnualLoss = string("xyz"[i]), AreaGroup, 1, 7, float64(i)
		west := -141.2 + 0.1*float64(i)
		a.Outline = orb.Bound{Min: orb.Point{west, 41.5}, Max: orb.Point{west + 0.1, 41.7}}.ToPolygon()
	}
	areas[2].Kind, areas[2].Outline = AreaJoined, nil
	rules := []Rule{{Rule: "gap", Measures: "slider", Criterion: "gap", Comparison: "below", Doubt: math.NaN(), Bar: 0.1, Source: "judgement"}}
	// Layers may be written before the file they go into.
	require.NoError(t, WriteTable(set, &Candidates, about, candidates, FormatCSV, Layer))
	require.NoError(t, WriteTable(set, &Areas, about, areas[:], FormatCSV, FormatParquet, Layer))
	require.NoError(t, WriteTable(set, &Buildings, about, rs, FormatGeoPackage))
	require.NoError(t, WriteTable(set, &Rules, about, rules, Layer))
	require.NoError(t, set.Gather(Buildings.Name, Areas.Name, Candidates.Name, Verdicts.Name, Rules.Name))
	require.NoError(t, set.Commit(&Manifest{PlanSHA256: "plan"}))
	return dir
}

// TestLayers holds the joined file to OGC 12-128r17: attributes (clause 2.4), the schema extension (F.9)
// and its enums, and the R-tree of outlines (F.3).
func TestLayers(t *testing.T) {
	dir := writeJoined(t)
	require.Equal(t, []string{"areas.csv", "areas.csv-metadata.json", "areas.parquet", "buildings.gpkg",
		"buildings.qml", "buildings.sld", "candidates.csv", "candidates.csv-metadata.json", ManifestName}, names(t, dir))
	path := filepath.Join(dir, "buildings.gpkg")
	db, err := sql.Open("sqlite", path)
	require.NoError(t, err)
	defer db.Close()
	for q, want := range map[string]string{
		"pragma integrity_check": "ok",
		"select cast(count(*) as text) from pragma_foreign_key_check": "0",
		"select group_concat(table_name || data_type) from (select * from gpkg_contents order by table_name)": "areasfeatures," +
			"buildingsfeatures,candidatesattributes,layer_stylesattributes,rulesattributes",
		"select group_concat(table_name || geometry_type_name) from (select * from gpkg_geometry_columns order by 1)": "areasPOLYGON,buildingsPOINT",
		"select cast(count(*) as text) from buildings join candidates using (building_id)":                            "800",
		"select group_concat(id || round(minx, 3)) from rtree_areas_geometry":                                         "1-141.2,2-141.1",
		"select cast(count(*) as text) from sqlite_master where type = 'trigger' and tbl_name = 'areas'":              "6",
		"select cast(count(*) as text) from pragma_table_info('candidates') where name = 'geometry'":                  "0",
		"select title from gpkg_data_columns where table_name = 'areas' and column_name = 'annual_loss'":              "Annual loss (CRD/yr)",
		"select constraint_name from gpkg_data_columns where column_name = 'best_measure'":                            "measures",
		// F.9: a constraint of type enum has values and no range, and is named by a column.
		"select cast(count(*) as text) from gpkg_data_column_constraints where constraint_type <> 'enum' or value is null or min is not null": "0",
		"select cast(count(*) as text) from gpkg_data_columns c left join gpkg_data_column_constraints k using (constraint_name) " +
			"where c.constraint_name is not null and k.value is null": "0",
		"select group_concat(value) from (select * from gpkg_data_column_constraints where constraint_name = 'grades' order by 3)": "A,B,C,D",
		"select group_concat(f_table_name) from layer_styles where useAsDefault and styleQML like '%RuleRenderer%'":                "buildings,areas",
	} {
		require.Equal(t, want, query(t, db, q), q)
	}
	m, err := ReadManifest(dir)
	require.NoError(t, err)
	for _, f := range m.Files {
		b, err := os.ReadFile(filepath.Join(dir, f.Name))
		require.NoError(t, err)
		require.EqualValues(t, len(b), f.Bytes, f.Name)
		require.Equal(t, fmt.Sprintf("%x", sha256.Sum256(b)), f.SHA256, f.Name)
	}
	one, err := os.ReadFile(path)
	require.NoError(t, err)
	other, err := os.ReadFile(filepath.Join(writeJoined(t), "buildings.gpkg"))
	require.NoError(t, err)
	require.True(t, string(one) == string(other), "equal tables give equal bytes")
}

// GDAL knows all layers, their outlines, and the words of columns as domains of fields.
func TestOGRReadsLayers(t *testing.T) {
	if _, err := exec.LookPath("ogrinfo"); err != nil || testing.Short() {
		t.Skip("needs ogrinfo of GDAL")
	}
	dir := writeJoined(t)
	path := filepath.Join(dir, "buildings.gpkg")
	run := func(args ...string) string {
		out, err := exec.Command("ogrinfo", append([]string{"-ro"}, args...)...).CombinedOutput()
		require.NoError(t, err, string(out))
		require.NotContains(t, string(out), "ERROR")
		require.NotContains(t, string(out), "Warning")
		return string(out)
	}
	list := run(path)
	for _, layer := range []string{"buildings (Point)", "areas (Polygon)", "candidates (None)", "rules (None)"} {
		require.Contains(t, list, layer)
	}
	require.Contains(t, run("-so", path, "buildings"), "domain name=measures")
	require.Contains(t, run("-fielddomain", "grades", path), "D: most fields assumed")
	require.Contains(t, run("-so", path, "areas"), "Extent: (-141.200000, 41.500000) - (-141.000000, 41.700000)")
	if out := run("-so", "-al", filepath.Join(dir, "areas.csv")); !strings.Contains(out, "Feature Count: 3") {
		t.Error(out)
	}
}

// Every title is for people: no underscores, and no two alike within a table.
func TestTitles(t *testing.T) {
	titlesOf(t, &Buildings)
	titlesOf(t, &Areas)
	titlesOf(t, &Candidates)
	titlesOf(t, &Verdicts)
	titlesOf(t, &Rules)
}

func titlesOf[R any](t *testing.T, table *Table[R]) {
	seen := map[string]bool{}
	for i := range table.Columns {
		title := table.Columns[i].title("CRD")
		require.False(t, seen[title], "%s: %s stands twice", table.Name, title)
		require.NotContains(t, title, "_")
		require.NotContains(t, title, "currency", "money is in the currency of the run: %s", table.Columns[i].Name)
		require.Equal(t, strings.ToUpper(title[:1]), title[:1])
		seen[title] = true
	}
	for _, c := range []struct{ name, want string }{{"drift_pct", "Drift (%)"}, {"annual_loss", "Annual loss (CRD/yr)"}} {
		if k := table.column(c.name); k != nil && table.Name == Buildings.Name {
			require.Equal(t, c.want, k.title("CRD"), fmt.Sprint(c.name))
		}
	}
}
