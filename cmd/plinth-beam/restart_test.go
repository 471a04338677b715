package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/output"
)

// A runner that loses a machine starts a job again, over what the first attempt left: whole ranges, and
// ranges half written by a worker that was killed. The files of the job are those of a job that nothing
// befell, the half ones are gone, and what the owner has there stays.
func TestRestarted(t *testing.T) {
	path := town(t, 60)
	j, err := newJob(path, "")
	require.NoError(t, err)
	out := spreadOut(t, path, "", 3, 20)
	want, err := output.ReadManifest(out)
	require.NoError(t, err)
	files := names(t, out)

	j.Ranges, j.Rows, j.Memory, j.Version = 3, 20, 1<<20, "test"
	require.NoError(t, os.Remove(filepath.Join(out, output.ManifestName)))
	half := filepath.Join(out, "buildings-00001-of-00003.parquet.tmp-77")
	owners := filepath.Join(out, "survey.csv.tmp-77")
	for _, name := range []string{half, owners, filepath.Join(out, "buildings-00001-of-00003.csv")} {
		require.NoError(t, os.WriteFile(name, []byte("half"), 0o666))
	}
	require.NoError(t, pipelined(t, j))
	got, err := output.ReadManifest(out)
	require.NoError(t, err)
	assert.Equal(t, want.Files, got.Files)
	assert.NoFileExists(t, half)
	assert.FileExists(t, owners)
	require.NoError(t, os.Remove(owners))
	assert.Equal(t, files, names(t, out))
	same(t, local(t, path), out)
}

// names returns the names of the files of a folder.
func names(t *testing.T, dir string) (list []string) {
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	for _, e := range entries {
		list = append(list, e.Name())
	}
	return list
}
