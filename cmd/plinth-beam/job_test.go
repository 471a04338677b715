package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/output"
)

// A plan that cannot run over machines is refused before anything starts.
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

// Force removes only files written by a run of this program, never a file of the owner with a
// similar name, and never an input of this run.
func TestForceLeavesOwnersFiles(t *testing.T) {
	j, err := newJob(town(t, 10), "")
	require.NoError(t, err)
	require.NoError(t, os.MkdirAll(j.Folder, 0o777))
	put := func(name string) string {
		path := filepath.Join(j.Folder, name)
		require.NoError(t, os.WriteFile(path, []byte("x"), 0o666))
		return path
	}
	owners := []string{put("Register-of-buildings.csv"), put("Minutes-of-meeting.docx"),
		put("buildings-1-of-2.csv"), put("my-buildings-00000-of-00008.csv")}
	ours := []string{put("buildings-00000-of-00008.parquet"), put("verdicts-00007-of-00008.csv.tmp-123"),
		put("rules.csv")}
	require.NoError(t, j.prepare(true))
	for _, path := range owners {
		assert.FileExists(t, path)
	}
	for _, path := range ours {
		assert.NoFileExists(t, path)
	}

	var keep *output.KeepError
	put("rules.csv")
	assert.ErrorAs(t, j.prepare(true), &keep, "of no run")
	require.NoError(t, os.Remove(filepath.Join(j.Folder, "rules.csv")))
	j.Registers = []string{put("buildings-00000-of-00008.csv")}
	assert.ErrorAs(t, j.prepare(true), &keep, "a register of this run")
	assert.FileExists(t, j.Registers[0])
	require.NoError(t, os.Remove(j.Registers[0]))
	foreign := put(output.ManifestName)
	assert.ErrorContains(t, j.prepare(true), "move that file away")
	assert.FileExists(t, foreign)
}

// A private plan restricts folder, pieces and manifest to their owner, and does not change the
// mode of a folder that existed.
func TestPrivate(t *testing.T) {
	path := town(t, 10)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, []byte(strings.Replace(string(text), "[output]",
		"[output]\nprivate = true", 1)), 0o666))
	out := spreadOut(t, path, "", 2, 100)
	folder, err := os.Stat(out)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o700), folder.Mode().Perm())
	entries, err := os.ReadDir(out)
	require.NoError(t, err)
	require.NotEmpty(t, entries)
	for _, e := range entries {
		info, err := e.Info()
		require.NoError(t, err)
		assert.Equal(t, os.FileMode(0o600), info.Mode().Perm(), e.Name())
	}
	require.NoError(t, os.Chmod(out, 0o755))
	j, err := newJob(path, "")
	require.NoError(t, err)
	assert.ErrorContains(t, j.prepare(true), "open to others")
	folder, err = os.Stat(out)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o755), folder.Mode().Perm())
}
