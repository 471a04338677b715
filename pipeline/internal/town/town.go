// Package town makes runs of the demo town for tests, and reads what they write.
package town

import (
	"bytes"
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/pipeline/output"
	"plinth/pipeline/plan"
	"plinth/pipeline/sample"
)

// New writes the demo with n buildings into a folder of its own.
func New(t testing.TB, n int) string {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, sample.Write(t.Context(), dir, n, false))
	return dir
}

// Plan returns the plan of the demo in dir after a change, which may be nil.
func Plan(t testing.TB, dir string, change func(*plan.Plan)) *plan.Plan {
	t.Helper()
	p, err := plan.Load(filepath.Join(dir, sample.PlanFile))
	require.NoError(t, err)
	if change != nil {
		change(p)
	}
	return p
}

// Files returns the files of a run of the demo in dir by their names.
func Files(t testing.TB, dir string) map[string][]byte {
	t.Helper()
	entries, err := os.ReadDir(filepath.Join(dir, "out"))
	require.NoError(t, err)
	all := make(map[string][]byte)
	for _, e := range entries {
		if e.IsDir() {
			continue
		}
		b, err := os.ReadFile(filepath.Join(dir, "out", e.Name()))
		require.NoError(t, err)
		all[e.Name()] = b
	}
	return all
}

// Rows returns the rows of a table in CSV, cells by their columns.
func Rows(t testing.TB, b []byte) []map[string]string {
	t.Helper()
	all, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
	require.NoError(t, err)
	out := make([]map[string]string, 0, len(all))
	for _, rec := range all[1:] {
		m := make(map[string]string)
		for i, name := range all[0] {
			m[name] = rec[i]
		}
		out = append(out, m)
	}
	return out
}

// Number reads the number in a cell.
func Number(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return v
}

// Alike requires that a folder holds the given files and nothing else.
func Alike(t testing.TB, want map[string][]byte, dir string) {
	t.Helper()
	got := Files(t, dir)
	require.Len(t, got, len(want))
	for name := range want {
		require.Equal(t, string(want[name]), string(got[name]), name)
	}
	require.NoDirExists(t, filepath.Join(dir, "out", output.WorkingName))
}
