package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/x/beamx"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/output"
	"plinth/pipeline/plan"
	"plinth/pipeline/sample"
	"plinth/pipeline/screen"
)

func TestMain(m *testing.M) {
	beam.Init()
	os.Exit(m.Run())
}

// town writes the demo town with a plan of rows and no draws, and returns its plan.
func town(t testing.TB, buildings int) string {
	dir := t.TempDir()
	require.NoError(t, sample.Write(t.Context(), dir, buildings, false))
	path := filepath.Join(dir, sample.PlanFile)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	changed := strings.NewReplacer("draws = 199", "draws = 0", `formats = ["parquet", "csv", "gpkg", "geojson", "html"]`, `formats = ["parquet", "csv"]`).Replace(string(text))
	require.Contains(t, changed, "draws = 0")
	require.Contains(t, changed, `formats = ["parquet", "csv"]`)
	require.NoError(t, os.WriteFile(path, []byte(changed), 0o666))
	return path
}

// add appends rows to the register of a plan: the first two once more, and one that
// no column fits.
func add(t *testing.T, path string) {
	register := filepath.Join(filepath.Dir(path), "buildings.csv")
	text, err := os.ReadFile(register)
	require.NoError(t, err)
	lines := strings.SplitAfter(string(text), "\n")
	text = append(text, lines[1]+lines[2]+lines[1]+"one,cell\n"...)
	require.NoError(t, os.WriteFile(register, text, 0o666))
}

// local screens the plan on one machine into a folder and returns it.
func local(t *testing.T, path string) string {
	start := time.Now()
	folder, err := onHere(t.Context(), path)
	require.NoError(t, err)
	t.Logf("plinth screen: %v", time.Since(start).Round(time.Millisecond))
	return folder
}

// onHere screens the plan on one machine into a folder beside it.
func onHere(ctx context.Context, path string) (folder string, err error) {
	p, err := plan.Load(path)
	if err != nil {
		return "", err
	}
	p.Output.Folder = filepath.Join(filepath.Dir(path), "local")
	run, err := assess.Open(p)
	if err != nil {
		return "", err
	}
	_, err = screen.Stock(ctx, run, assess.Settings{Version: "test", Replace: true})
	return p.Output.Folder, err
}

// spreadOut screens the plan as a Beam pipeline in this process and returns the
// folder.
func spreadOut(t *testing.T, path, glob string, ranges, rows int) string {
	j, err := newJob(path, glob)
	require.NoError(t, err)
	j.Ranges, j.Rows, j.Memory, j.Version = ranges, rows, 1<<20, "test"
	require.NoError(t, j.check(t.Context()))
	require.NoError(t, j.prepare(true))
	start := time.Now()
	require.NoError(t, pipelined(t, j))
	t.Logf("plinth-beam: %v", time.Since(start).Round(time.Millisecond))
	return j.Folder
}

// pipelined runs the pipeline of a job in this process.
func pipelined(t *testing.T, j *job) error {
	t.Setenv("TMPDIR", t.TempDir()) // where the SDK leaves an empty file a run
	p, s := beam.NewPipelineWithRoot()
	j.build(s)
	_, err := beamx.RunWithMetrics(context.Background(), p)
	return err
}

// The demo town over many stretches and ranges is the demo town of one machine.
func TestTown(t *testing.T) {
	path := town(t, sample.Buildings)
	add(t, path)
	out := spreadOut(t, path, "", 5, 16)
	assert.Greater(t, len(ranged(t, out, "buildings", "csv")), 3)
	want := local(t, path)
	same(t, want, out)
	rejects := joined(t, out, "rejects")
	assert.Equal(t, 4, strings.Count(rejects, "first on line"), "three rows added, one of the town's own")

	first, err := output.ReadManifest(out)
	require.NoError(t, err)
	again, err := output.ReadManifest(spreadOut(t, path, "", 5, 16))
	require.NoError(t, err)
	assert.Equal(t, first.Files, again.Files, "an equal run has equal files")

	same(t, want, spreadOut(t, path, "", 3, 100)) // other stretches and ranges, the same rows
}

// A register in several files is one stock: an id of an earlier file is used.
func TestFiles(t *testing.T) {
	path := town(t, 60)
	dir := filepath.Dir(path)
	text, err := os.ReadFile(filepath.Join(dir, "buildings.csv"))
	require.NoError(t, err)
	lines := strings.SplitAfter(strings.TrimSpace(string(text))+"\n", "\n")
	header, rows := lines[0], lines[1:len(lines)-1]
	for i, part := range [][]string{rows[:20], append(rows[20:45:45], rows[3]), rows[45:]} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, fmt.Sprintf("part-%d.csv", i)), []byte(header+strings.Join(part, "")), 0o666))
	}
	want := local(t, path)
	out := spreadOut(t, path, filepath.Join(dir, "part-*.csv"), 2, 7)
	for _, table := range []string{"buildings", "candidates", "verdicts"} {
		text, err := os.ReadFile(filepath.Join(want, table+".csv"))
		require.NoError(t, err)
		assert.Equal(t, string(text), joined(t, out, table), table)
	}
	assert.Contains(t, joined(t, out, "rejects"), "first on line 5 of part-0.csv")
	m, err := output.ReadManifest(out)
	require.NoError(t, err)
	assert.Len(t, m.Inputs, 4, "three registers and the hazard")
}

// stock returns how many buildings a large stock of the tests has.
func stock(t *testing.T) int {
	text := os.Getenv("PLINTH_BEAM_BUILDINGS")
	if text == "" {
		return 5000
	}
	n, err := strconv.Atoi(text)
	require.NoError(t, err)
	return n
}

// A stock of thousands, whose blocks are many and whose ranges go to disk, is that of
// one machine. make beam-big: 100,000 buildings.
func TestStock(t *testing.T) {
	buildings := stock(t)
	path := town(t, buildings)
	add(t, path)
	out := spreadOut(t, path, "", 8, max(1000, buildings/16))
	same(t, local(t, path), out)
}
