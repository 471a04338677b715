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
