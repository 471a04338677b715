package pipeline

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/output"
	"plinth/pipeline/plan"
	"plinth/pipeline/sample"
)

// An output folder that cannot be written to ends the run before it has begun.
func TestUnwritableFolder(t *testing.T) {
	dir := town(t, 50)
	out := filepath.Join(dir, "out")
	refused := func(r *Run, want func(error)) {
		ctx, s := context.Background(), Settings{Progress: func(string, int64, int64) { t.Error("it has begun") }}
		_, err := r.Screen(ctx, s)
		want(err)
		_, err = r.Confirm(ctx, s)
		want(err)
		_, err = r.Budget(ctx, s)
		want(err)
		_, err = r.Inspect(ctx, s)
		want(err)
	}
	require.NoError(t, os.WriteFile(out, []byte("a file"), 0o600))
	refused(plainly(t, dir), func(err error) { require.ErrorContains(t, err, "output folder") })
	require.NoError(t, os.Remove(out))

	t.Run("no permission", func(t *testing.T) {
		require.NoError(t, os.Mkdir(out, 0o500))
		if os.WriteFile(filepath.Join(out, "probe"), nil, 0o600) == nil {
			t.Skip("this user may write to any folder")
		}
		refused(plainly(t, dir), func(err error) { require.ErrorIs(t, err, os.ErrPermission) })
	})
}

// An input that is changed while the run reads it is found at the end, whether it
// grew, shrank or has as many bytes as before; nothing is written.
func TestInputChangedDuringRun(t *testing.T) {
	for _, c := range []struct {
		name   string
		file   string
		change func(b []byte) []byte
	}{
		{"grown", sample.RegisterFile, func(b []byte) []byte { return append(b, b[len(b)/2:]...) }},
		{"cut", sample.RegisterFile, func(b []byte) []byte { return b[:len(b)-30] }},
		{"as long", sample.RegisterFile, func(b []byte) []byte { return bytes.Replace(b, []byte("CS-00299"), []byte("CS-99299"), 1) }},
		{"hazard", sample.HazardFile, func(b []byte) []byte { return bytes.Replace(b, []byte("0.03216"), []byte("0.04216"), 1) }},
	} {
		for _, every := range []int64{0, 50} { // without and with checkpoints
			dir := town(t, 300)
			path := filepath.Join(dir, c.file)
			changed := false
			s := Settings{Workers: 1, Checkpoint: every, Progress: func(string, int64, int64) {
				if !changed {
					b, err := os.ReadFile(path)
					require.NoError(t, err)
					require.NoError(t, os.WriteFile(path, c.change(b), 0o600))
					changed = true
				}
			}}
			_, err := plainly(t, dir).Screen(context.Background(), s)
			var found *ChangedError
			require.ErrorAs(t, err, &found, c.name)
			assert.Equal(t, path, found.Path)
			assert.Empty(t, files(t, dir), c.name)
		}
	}
}

// A pipe is refused before it is opened: the run would wait for it, and read it once.
func TestPipeIsRefused(t *testing.T) {
	dir := town(t, 10)
	p, err := plan.Load(filepath.Join(dir, sample.PlanFile))
	require.NoError(t, err)
	p.Inventory.Path = pipe(t)
	_, err = Open(p)
	require.ErrorContains(t, err, "inventory.path: ")
	require.ErrorContains(t, err, "is a pipe or a device")
	require.ErrorContains(t, err, "save it to a file first")
}

// No clock decides: files of 1970 or of the day after tomorrow make the same run, and
// nothing that computes asks for the time.
func TestClockDoesNotMatter(t *testing.T) {
	dir := town(t, 200)
	_, err := plainly(t, dir).Screen(context.Background(), Settings{Checkpoint: 50})
	require.NoError(t, err)
	want := files(t, dir)
	for _, when := range []time.Time{time.Unix(0, 0), time.Now().Add(48 * time.Hour)} {
		require.Error(t, stopped(t, dir, Settings{Checkpoint: 50}, 100))
		for _, name := range []string{sample.RegisterFile, sample.HazardFile, filepath.Join("out", output.WorkingName, output.CheckpointName)} {
			require.NoError(t, os.Chtimes(filepath.Join(dir, name), when, when))
		}
		res, err := plainly(t, dir).Screen(context.Background(), Settings{Resume: true})
		require.NoError(t, err)
		assert.Positive(t, res.Resumed)
		alike(t, want, dir)
	}
	clock := regexp.MustCompile(`\btime\.(Now|Since|Until|After|Tick|NewTimer)\b`)
	for _, folder := range []string{".", "../retrofit", "../archetypes", "../hazard"} {
		err := filepath.WalkDir(folder, func(path string, d os.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			b, err := os.ReadFile(path)
			require.NoError(t, err)
			assert.NotRegexp(t, clock, string(b), path)
			return nil
		})
		require.NoError(t, err)
	}
}

// Every row of the tables of docs/reliability.md names a test, and every test it names
// stands in the source. make faults runs them.
func TestReliabilityPage(t *testing.T) {
	var source strings.Builder
	err := filepath.WalkDir("..", func(path string, d os.DirEntry, err error) error {
		if err == nil && d.Name() == "node_modules" {
			return filepath.SkipDir
		}
		if err != nil || !strings.HasSuffix(path, "_test.go") {
			return err
		}
		b, err := os.ReadFile(path)
		source.Write(b)
		return err
	})
	require.NoError(t, err)
	page, err := os.ReadFile(filepath.Join("..", "docs", "reliability.md"))
	require.NoError(t, err)
	named := 0
	for line := range strings.Lines(string(page)) {
		if !strings.HasPrefix(line, "| ") || strings.HasPrefix(line, "| ---") || strings.HasSuffix(line, "| test |\n") {
			continue
		}
		tests := regexp.MustCompile("`((?:Test|Fuzz)\\w+)`").FindAllStringSubmatch(line, -1)
		assert.NotEmpty(t, tests, "no test in the row %s", line)
		for _, m := range tests {
			named++
			assert.True(t, strings.Contains(source.String(), "\nfunc "+m[1]+"("), "there is no %s", m[1])
		}
	}
	require.Greater(t, named, 50)
}
