package screen

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/sample"
)

// keepLevels leaves the demo's hazard in dir no other return periods than these.
func keepLevels(t testing.TB, dir string, years ...string) {
	t.Helper()
	path := filepath.Join(dir, sample.HazardFile)
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	lines := strings.SplitAfter(string(b), "\n")
	kept := lines[:1:1]
	for _, line := range lines[1:] {
		for _, y := range years {
			if cells := strings.Split(line, ","); len(cells) > 2 && cells[2] == y {
				kept = append(kept, line)
			}
		}
	}
	require.Greater(t, len(kept), 1)
	require.NoError(t, os.WriteFile(path, []byte(strings.Join(kept, "")), 0o600))
}

// A hazard file of few return periods under a plan of many: the levels outside its range
// hold its end values, and every building of the demo is assessed all the same.
func TestHeldLevels(t *testing.T) {
	if testing.Short() {
		t.Skip("screens the demo several times")
	}
	want := screened(t, town.New(t, 120), assess.Settings{}).Summary.Counts
	for _, years := range [][]string{{"475"}, {"475", "2475"}} {
		dir := town.New(t, 120)
		keepLevels(t, dir, years...)
		require.Equal(t, want, screened(t, dir, assess.Settings{}).Summary.Counts, "levels %v", years)
	}
}

// A range of one value in every isolator and device table of the plan.
func TestRangesOfOneValueInAPlan(t *testing.T) {
	dir := town.New(t, 60)
	path := filepath.Join(dir, sample.PlanFile)
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	const isolators = "yield_ratio = [0.06, 0.06]\nperiod_s = [3, 3]\n" +
		"upper_bound = [1, 1]\nlower_bound = [1, 1]\n"
	plan := string(b) + "\n[measures.lead-rubber]\n" + isolators + "[measures.slider]\n" + isolators +
		"[measures.yielding]\nstiffness_ratio = [1, 1]\nforce_ratio = [0.5, 0.5]\n"
	require.NoError(t, os.WriteFile(path, []byte(plan), 0o600))
	require.Positive(t, screened(t, dir, assess.Settings{}).Summary.Counts.Out)
}
