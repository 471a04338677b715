package screen

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

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/output"
	"plinth/pipeline/sample"
)

// An input that is changed while the run reads it is found at the end, whether it
// grew, shrank or has as many bytes as before; nothing is written.
func TestInputChangedDuringRun(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	for _, c := range []struct {
		name   string
		file   string
		change func(b []byte) []byte
	}{
		{"grown", sample.RegisterFile, func(b []byte) []byte { return append(b, b[len(b)/2:]...) }},
		{"cut", sample.RegisterFile, func(b []byte) []byte { return b[:len(b)-30] }},
		{"as long", sample.RegisterFile,
			func(b []byte) []byte { return bytes.Replace(b, []byte("CS-00299"), []byte("CS-99299"), 1) }},
		{"hazard", sample.HazardFile, func(b []byte) []byte {
			return bytes.Replace(b, []byte("0.03216"), []byte("0.04216"), 1)
		}},
	} {
		for _, every := range []int64{0, 50} { // without and with checkpoints
			dir := town.New(t, 300)
			path := filepath.Join(dir, c.file)
			changed := false
			s := assess.Settings{Workers: 1, Checkpoint: every, Progress: func(string, int64, int64) {
				if !changed {
					b, err := os.ReadFile(path)
					require.NoError(t, err)
					require.NoError(t, os.WriteFile(path, c.change(b), 0o600))
					changed = true
				}
			}}
			_, err := Stock(context.Background(), plainly(t, dir), s)
			var found *assess.ChangedError
			require.ErrorAs(t, err, &found, c.name)
			assert.Equal(t, path, found.Path)
			assert.Empty(t, town.Files(t, dir), c.name)
		}
	}
}

// No clock decides: files of 1970 or of the day after tomorrow make the same run, and
// nothing that computes asks for the time.
func TestClockDoesNotMatter(t *testing.T) {
	if testing.Short() {
		t.Skip("screens the demo several times")
	}
	dir := town.New(t, 200)
	_, err := Stock(context.Background(), plainly(t, dir), assess.Settings{Checkpoint: 50})
	require.NoError(t, err)
	want := town.Files(t, dir)
	for _, when := range []time.Time{time.Unix(0, 0), time.Now().Add(48 * time.Hour)} {
		require.Error(t, stopped(t, dir, assess.Settings{Checkpoint: 50}, 100))
		for _, name := range []string{sample.RegisterFile, sample.HazardFile,
			filepath.Join("out", output.WorkingName, output.CheckpointName)} {
			require.NoError(t, os.Chtimes(filepath.Join(dir, name), when, when))
		}
		res, err := Stock(context.Background(), plainly(t, dir), assess.Settings{Resume: true})
		require.NoError(t, err)
		assert.Positive(t, res.Resumed)
		town.Alike(t, want, dir)
	}
	clock := regexp.MustCompile(`\btime\.(Now|Since|Until|After|Tick|NewTimer)\b`)
	for _, folder := range []string{"..", "../../retrofit", "../../archetypes", "../../hazard"} {
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
