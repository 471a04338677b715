package screen

import (
	"bytes"
	"context"
	"encoding/csv"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/output"
	"plinth/pipeline/plan"
	"plinth/pipeline/sample"
)

// byUse screens the demo in dir with areas by the register's column of uses.
func byUse(t *testing.T, dir string, workers int) map[string][]byte {
	p, err := plan.Load(filepath.Join(dir, sample.PlanFile))
	require.NoError(t, err)
	p.Uncertainty.Draws = 0
	p.Inventory.Group, p.Output.Areas.By = "USED_FOR", plan.AreasByGroup
	p.Output.Formats = plan.Formats{output.FormatParquet, output.FormatCSV, output.FormatGeoPackage}
	study, err := assess.Open(p)
	require.NoError(t, err)
	_, err = Stock(context.Background(), study, assess.Settings{Workers: workers, Replace: true})
	require.NoError(t, err)
	return town.Files(t, dir)
}

// Areas by a column of the register count what the register holds, with equal bytes for any number of
// workers; the GeoPackage holds them and the plain tables, and no layer is left aside.
func TestAreasByGroup(t *testing.T) {
	dir := town.New(t, 300)
	files := byUse(t, dir, 1)
	again := byUse(t, dir, 3)
	require.Len(t, again, len(files))
	for name, b := range files {
		assert.True(t, bytes.Equal(b, again[name]), name)
		assert.NotEqual(t, "."+output.Layer, filepath.Ext(name))
	}
	uses := map[string]int{}
	for _, b := range read(t, files["buildings.csv"]) {
		uses[b["area"]]++
		assert.True(t, strings.HasPrefix(b["label"], b["building_id"]), b["label"])
		assert.NotEmpty(t, b["priority"])
		assert.NotEmpty(t, b["reason"])
	}
	own, sum := 0, 0
	for _, a := range read(t, files["areas.csv"]) {
		n, err := strconv.Atoi(a["buildings"])
		require.NoError(t, err)
		if sum += n; a["kind"] == output.AreaGroup {
			own++
			assert.Equal(t, uses[a["area"]], n, a["area"])
		}
	}
	require.Greater(t, own, 5)
	require.Equal(t, len(read(t, files["buildings.csv"])), sum)

	if _, err := exec.LookPath("ogrinfo"); err != nil {
		t.Skip("needs ogrinfo of GDAL, with SpatiaLite")
	}
	path := filepath.Join(t.TempDir(), "buildings.gpkg")
	require.NoError(t, os.WriteFile(path, files["buildings.gpkg"], 0o600))
	// The hulls are those of GEOS, which shares no code with them; the tables join by id and rule.
	for sql, want := range map[string]int{
		"SELECT a.area FROM areas a JOIN (SELECT area, ST_ConvexHull(ST_Collect(geometry)) h FROM buildings GROUP BY 1) b " +
			"USING (area) WHERE a.geometry NOT NULL AND ST_Area(h) > 0 AND ST_Equals(a.geometry, h) = 1": own,
		"SELECT DISTINCT c.building_id FROM candidates c LEFT JOIN buildings b USING (building_id) WHERE b.rank IS NULL": 0,
		"SELECT v.rule FROM verdicts v LEFT JOIN rules r USING (rule) WHERE r.source IS NULL":                            0,
	} {
		out, err := exec.Command("ogrinfo", "-q", "-ro", "-dialect", "sqlite", "-sql", sql, path).CombinedOutput()
		require.NoError(t, err, string(out))
		if strings.Contains(string(out), "no such function") {
			t.Skip("this GDAL has no SpatiaLite")
		}
		require.NotContains(t, string(out), "ERROR")
		assert.Equal(t, want, strings.Count(string(out), "OGRFeature("), sql)
	}
}

// read returns the rows of a CSV file by the names of their columns.
func read(t *testing.T, b []byte) []map[string]string {
	lines, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
	require.NoError(t, err)
	var rows []map[string]string
	for _, cells := range lines[1:] {
		row := map[string]string{}
		for i, name := range lines[0] {
			row[name] = cells[i]
		}
		rows = append(rows, row)
	}
	return rows
}
