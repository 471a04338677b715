package output

import (
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/xitongsys/parquet-go/writer"
)

// outsideReaders returns the path of the check by outside readers, or skips.
func outsideReaders(t *testing.T) string {
	if testing.Short() {
		t.Skip("starts Node.js: seconds")
	}
	script, err := filepath.Abs("../../testdata/readers/check.mjs")
	require.NoError(t, err)
	if _, err := exec.LookPath("node"); err != nil {
		t.Skip("needs Node.js 20 or later")
	}
	if _, err := os.Stat(filepath.Join(filepath.Dir(script), "node_modules", "hyparquet")); err != nil {
		t.Skip("needs: npm ci --prefix testdata/readers")
	}
	return script
}

// runReaders returns what the outside readers say of dir and whether they accept.
func runReaders(script, dir string) (string, bool) {
	out, err := exec.Command("node", script, dir).CombinedOutput()
	return string(out), err == nil
}

// addTable writes rs to set in both formats.
func addTable[R any](t *testing.T, set *Set, table *Table[R], rs []R) {
	s, err := NewSheet(set, table, About{Version: "0.1.0", Currency: "CRD", PriceDate: "2025-01"}, FormatParquet, FormatCSV)
	require.NoError(t, err)
	s.lanes[0].w.(*Parquet[R]).groupRows = smallGroup // several row groups in few rows
	for i := range rs {
		require.NoError(t, s.Write(&rs[i]))
	}
	require.NoError(t, s.Close())
}

// TestOutsideReaders opens three tables with DuckDB and hyparquet: one with every
// kind of column and hostile text, one of two row groups, one without rows.
func TestOutsideReaders(t *testing.T) {
	script := outsideReaders(t)
	dir := t.TempDir()
	set, err := NewSet(dir, Claim{Plan: "plan"})
	require.NoError(t, err)
	verdicts := make([]Verdict, smallGroup+1000)
	for i := range verdicts {
		verdicts[i] = Verdict{BuildingID: hostile[1+i%11], Measure: "lead-rubber", Rule: "clearance", Verdict: "bar",
			Value: float64(i), Limit: math.NaN(), Sentence: hostile[i%len(hostile)]}
	}
	addTable(t, set, &Buildings, rows(1000))
	addTable(t, set, &Verdicts, verdicts)
	addTable[Candidate](t, set, &Candidates, nil)
	require.NoError(t, set.Commit(&Manifest{PlanSHA256: "plan"}))
	out, ok := runReaders(script, dir)
	require.True(t, ok, out)
	require.Contains(t, out, "3 Parquet files, 0 failures")
}

// TestOutsideReadersRefuse proves that the check is worth something: it must
// fail on the same rows written with the default statistics of the writing
// library, whose count of nulls is wrong, so that DuckDB does not find a null.
func TestOutsideReadersRefuse(t *testing.T) {
	script := outsideReaders(t)
	type row struct {
		ID   string   `parquet:"name=building_id, type=BYTE_ARRAY, convertedtype=UTF8"`
		Use  *string  `parquet:"name=use, type=BYTE_ARRAY, convertedtype=UTF8, encoding=PLAIN_DICTIONARY"`
		Sway *float64 `parquet:"name=drift_pct, type=DOUBLE"`
	}
	use, sway, none, nan := "school", 1.5, "", math.NaN()
	table := Table[row]{Name: "stock", ID: "building_id", Columns: []Column[row]{
		{Name: "building_id", Required: true, Text: func(r *row) *string { return &r.ID }},
		{Name: "use", Text: func(r *row) *string {
			if r.Use == nil {
				return &none
			}
			return r.Use
		}},
		{Name: "drift_pct", Float: func(r *row) *float64 {
			if r.Sway == nil {
				return &nan
			}
			return r.Sway
		}},
	}}
	dir := t.TempDir()
	set, err := NewSet(dir, Claim{Plan: "plan"})
	require.NoError(t, err)
	csv, err := NewSheet(set, &table, About{}, FormatCSV)
	require.NoError(t, err)
	f, err := set.Create("stock.parquet")
	require.NoError(t, err)
	stock, err := writer.NewParquetWriterFromWriter(f, new(row), 1)
	require.NoError(t, err)
	for i := range 100 {
		r := row{ID: strconv.Itoa(i), Use: &use, Sway: &sway}
		if i == 50 {
			r.Use = nil
		}
		if i == 0 {
			r.Sway = nil
		}
		require.NoError(t, csv.Write(&r))
		require.NoError(t, stock.Write(r))
	}
	require.NoError(t, stock.WriteStop())
	require.NoError(t, csv.Close())
	require.NoError(t, set.Commit(&Manifest{PlanSHA256: "plan"}))

	out, ok := runReaders(script, dir)
	require.False(t, ok, out)
	require.Contains(t, out, `DuckDB: where "use" is null: 0 rows, CSV has 1`)
	require.Contains(t, out, "nulls of drift_pct by the footer: 0, CSV has 1")
	require.NotContains(t, out, "differ from the CSV", "values are right: only the statistics are wrong")
}
