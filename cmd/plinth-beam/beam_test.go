package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/x/beamx"
	"github.com/parquet-go/parquet-go"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline"
	"plinth/pipeline/output"
	"plinth/pipeline/plan"
	"plinth/pipeline/sample"
)

func TestMain(m *testing.M) {
	beam.Init()
	os.Exit(m.Run())
}

// town writes the demo town with a plan of rows and no draws, and returns its plan.
func town(t *testing.T, buildings int) string {
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
	p, err := plan.Load(path)
	require.NoError(t, err)
	p.Output.Folder = filepath.Join(filepath.Dir(path), "local")
	run, err := pipeline.Open(p)
	require.NoError(t, err)
	start := time.Now()
	_, err = run.Screen(t.Context(), pipeline.Settings{Version: "test"})
	require.NoError(t, err)
	t.Logf("plinth screen: %v", time.Since(start).Round(time.Millisecond))
	return p.Output.Folder
}

// spreadOut screens the plan as a Beam pipeline in this process and returns the
// folder.
func spreadOut(t *testing.T, path, glob string, ranges, rows int) string {
	j, err := newJob(path, glob)
	require.NoError(t, err)
	j.Ranges, j.Rows, j.Memory, j.Version = ranges, rows, 64<<20, "test"
	require.NoError(t, j.check())
	require.NoError(t, j.prepare(true))
	p, s := beam.NewPipelineWithRoot()
	j.build(s)
	start := time.Now()
	_, err = beamx.RunWithMetrics(context.Background(), p)
	require.NoError(t, err)
	t.Logf("plinth-beam: %v", time.Since(start).Round(time.Millisecond))
	return j.Folder
}

// ranged returns the files of a table's ranges in order.
func ranged(t *testing.T, dir, table, format string) []string {
	files, err := filepath.Glob(filepath.Join(dir, table+"-*-of-*."+format))
	require.NoError(t, err)
	return files
}

// joined returns the CSV files of a table one after the other, with one header.
func joined(t *testing.T, dir, table string) string {
	var all strings.Builder
	for i, f := range ranged(t, dir, table, "csv") {
		text, err := os.ReadFile(f)
		require.NoError(t, err)
		if i > 0 {
			_, text, _ = bytes.Cut(text, []byte("\n"))
		}
		all.Write(text)
	}
	return all.String()
}

// rowsOf returns the rows of Parquet files as text.
func rowsOf(t *testing.T, files ...string) []string {
	var out []string
	for _, name := range files {
		f, err := os.Open(name)
		require.NoError(t, err)
		defer f.Close()
		r := parquet.NewReader(f)
		rows := make([]parquet.Row, 100)
		for {
			n, err := r.ReadRows(rows)
			for _, row := range rows[:n] {
				out = append(out, fmt.Sprintf("%+v", row))
			}
			if err == io.EOF {
				break
			}
			require.NoError(t, err)
		}
	}
	return out
}

// same asserts that a run over machines wrote the rows of the run on one, in their
// order, in every table and format.
func same(t *testing.T, local, spread string) {
	for _, table := range []string{"buildings", "candidates", "verdicts", "rejects"} {
		want, err := os.ReadFile(filepath.Join(local, table+".csv"))
		require.NoError(t, err)
		got := joined(t, spread, table)
		if got != string(want) { // a short message, not a diff of megabytes
			w, g := strings.Split(string(want), "\n"), strings.Split(got, "\n")
			for i := range min(len(w), len(g)) {
				require.Equal(t, w[i], g[i], "%s.csv, line %d", table, i+1)
			}
			require.Equal(t, len(w), len(g), "%s.csv, lines", table)
		}
	}
	for _, table := range []string{"buildings", "candidates"} {
		want, got := rowsOf(t, filepath.Join(local, table+".parquet")), rowsOf(t, ranged(t, spread, table, "parquet")...)
		require.Equal(t, len(want), len(got), table)
		for i := range want {
			require.Equal(t, want[i], got[i], "%s.parquet, row %d", table, i)
		}
	}
	one, err := output.ReadManifest(local)
	require.NoError(t, err)
	many, err := output.ReadManifest(spread)
	require.NoError(t, err)
	assert.Equal(t, one.Counts, many.Counts)
	assert.Equal(t, one.Inputs, many.Inputs)
	assert.Equal(t, one.Notes, many.Notes)
	for _, f := range many.Files {
		in, err := output.HashInput(filepath.Join(spread, f.Name), f.Name)
		require.NoError(t, err)
		assert.Equal(t, f.SHA256, in.SHA256, f.Name)
	}
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

	first := joined(t, out, "candidates")
	same(t, want, spreadOut(t, path, "", 3, 100))
	assert.Equal(t, first, joined(t, filepath.Dir(out)+"/out", "candidates"), "other stretches and ranges, the same rows")
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

// A hundred thousand buildings: make beam-big.
func TestBig(t *testing.T) {
	if os.Getenv("PLINTH_BEAM_BIG") == "" {
		t.Skip("make beam-big runs 100,000 buildings")
	}
	path := town(t, 100_000)
	same(t, local(t, path), spreadOut(t, path, "", 8, 8192))
}

// What cannot be done over machines is refused before anything is started.
func TestRefused(t *testing.T) {
	path := town(t, 10)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	for change, message := range map[string]string{
		"draws = 0 => draws = 199":                           "uncertainty.draws must be 0",
		`["parquet", "csv"] => ["gpkg", "html"]`:             `neither "parquet" nor "csv"`,
		"[inventory]\n => [inventory]\nimpute = \"stock\"\n": "whole register",
	} {
		from, to, _ := strings.Cut(change, " => ")
		require.NoError(t, os.WriteFile(path, []byte(strings.Replace(string(text), from, to, 1)), 0o666))
		_, err = newJob(path, "")
		assert.ErrorContains(t, err, message)
	}
	require.NoError(t, os.WriteFile(path, text, 0o666))
	_, err = newJob(path, filepath.Join(t.TempDir(), "*.csv"))
	assert.ErrorContains(t, err, "finds no file")

	j, err := newJob(path, "")
	require.NoError(t, err)
	require.NoError(t, j.prepare(false))
	owners := filepath.Join(j.Folder, "owner.txt")
	require.NoError(t, os.WriteFile(owners, nil, 0o666))
	var folder *output.FolderError
	assert.ErrorAs(t, j.prepare(false), &folder)
	require.NoError(t, j.prepare(true))
	assert.FileExists(t, owners, "files of the owner stay")
	assert.ErrorContains(t, reachable("127.0.0.1:1"), "no job service answers")
}

// Formats that are not written are named.
func TestSkippedFormats(t *testing.T) {
	path := town(t, 10)
	j, err := newJob(path, "")
	require.NoError(t, err)
	assert.Empty(t, j.notice())
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	changed := strings.Replace(string(text), `["parquet", "csv"]`, `["gpkg", "csv", "html"]`, 1)
	require.NoError(t, os.WriteFile(path, []byte(changed), 0o666))
	j, err = newJob(path, "")
	require.NoError(t, err)
	assert.Contains(t, j.notice(), "not written here: gpkg, html of output.formats")
}

// Borders cut a sample into equal parts, and rows go to the range that holds their
// key.
func TestSpread(t *testing.T) {
	var keys [][]byte
	for i := range 100 {
		keys = append(keys, []byte{byte(99 - i)})
	}
	b := borders(keys, 4)
	assert.Equal(t, [][]byte{{25}, {50}, {75}}, b)
	f := &spreadFn{Ranges: 4, borders: map[int][][]byte{2: b}}
	for key, part := range map[byte]int{0: 8, 24: 8, 25: 9, 74: 10, 75: 11, 255: 11} {
		require.NoError(t, f.ProcessElement(2, row{Key: []byte{key}}, nil, func(at int, _ row) { assert.Equal(t, part, at, "key %d", key) }))
	}
	assert.Nil(t, borders(nil, 4))

	d := &sampleFn{Size: 10}
	whole, left, right := d.CreateAccumulator(), d.CreateAccumulator(), d.CreateAccumulator()
	for i, k := range keys {
		whole = d.AddInput(whole, k)
		if i%3 == 0 {
			left = d.AddInput(left, k)
		} else {
			right = d.AddInput(right, k)
		}
	}
	assert.Equal(t, d.ExtractOutput(whole), d.MergeAccumulators(right, left), "a sample does not depend on how keys came")
}
