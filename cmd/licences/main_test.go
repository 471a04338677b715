package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestPage checks that docs/licences.md lists what is linked, all of it under accepted
// licences, and that the texts for the binary are complete. UPDATE=1 writes the page.
func TestPage(t *testing.T) {
	if testing.Short() {
		t.Skip("reads the licences of every module")
	}
	t.Chdir(filepath.Join("..", ".."))
	modules, err := linked(filepath.Join("cmd", "plinth"))
	require.NoError(t, err)
	assert.Greater(t, len(modules), 20)
	for _, m := range modules {
		assert.Empty(t, m.check())
		assert.NotEqual(t, "github.com/google/licensecheck", m.Path, "only this command uses it")
	}
	var got bytes.Buffer
	require.NoError(t, page(&got, "cmd/plinth", modules))
	path := filepath.Join("docs", "licences.md")
	if os.Getenv("UPDATE") != "" {
		require.NoError(t, os.WriteFile(path, got.Bytes(), 0o666))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), got.String(), "make licences rewrites it")

	var texts bytes.Buffer
	require.NoError(t, carried(&texts, "cmd/plinth", modules))
	for _, m := range modules {
		for _, f := range m.Files {
			assert.Contains(t, texts.String(), m.Path+" "+m.Version+": "+f.Name+"\n")
			assert.True(t, bytes.Contains(texts.Bytes(), tidy(f.Text)), "%s %s", m.Path, f.Name)
		}
	}
}

// TestRefused checks that a module with a licence that is not accepted is refused, with the
// file and a remedy.
func TestRefused(t *testing.T) {
	mit, err := os.ReadFile(filepath.Join("testdata", "MIT"))
	require.NoError(t, err)
	// The notice that its Exhibit A gives for source files.
	mpl := "This Source Code Form is subject to the terms of the Mozilla Public License, v. 2.0. If a copy " +
		"of the MPL was not distributed with this file, You can obtain one at http://mozilla.org/MPL/2.0/."
	for name, c := range map[string]struct {
		files []file
		want  string
	}{
		"accepted": {[]file{{"LICENSE", mit}}, ""},
		"not accepted": {[]file{{"LICENSE", mit}, {"sub/COPYING", []byte(mpl)}},
			"example.org/m v1: sub/COPYING: MPL-2.0 is not among the accepted licences"},
		"unknown": {[]file{{"LICENSE", []byte("Ask the author.")}},
			"LICENSE: 0 % of it is the text of a known licence"},
		"half": {[]file{{"LICENSE", append(bytes.Repeat([]byte("More is forbidden here. "), 40),
			mit...)}}, "read it, and say in cmd/licences/byhand.go"},
		"none":         {nil, "example.org/m v1: no licence in it"},
		"notice alone": {[]file{{"NOTICE", []byte("Made by somebody.")}}, "no licence in it"},
	} {
		wrong := module{"example.org/m", "v1", c.files}.check()
		if c.want == "" {
			assert.Empty(t, wrong, name)
			continue
		}
		require.Len(t, wrong, 1, name)
		assert.ErrorContains(t, wrong[0], c.want, name)
	}
}

// TestNotices checks that licences of folders above a package count, up to the module's root
// and no further, and that the file named by a reading is included.
func TestNotices(t *testing.T) {
	d := t.TempDir()
	root := filepath.Join(d, "m")
	require.NoError(t, os.MkdirAll(filepath.Join(root, "a", "b"), 0o777))
	for _, name := range []string{"LICENSE", "m/Licence.md", "m/license.go", "m/licensed.txt", "m/a/NOTICE",
		"m/a/b/COPYING-2"} {
		require.NoError(t, os.WriteFile(filepath.Join(d, name), []byte(name), 0o666))
	}
	list, err := notices(filepath.Join(root, "a", "b"), root)
	require.NoError(t, err)
	var names []string
	for _, f := range list {
		names = append(names, f.Name)
	}
	assert.Equal(t, []string{"a/b/COPYING-2", "a/NOTICE", "Licence.md"}, names)
}
