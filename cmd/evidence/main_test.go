package main

import (
	"encoding/csv"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var repository = os.DirFS(filepath.Join("..", ".."))

// TestPage holds docs/evidence.md to the sources of the tables, every one of which must have a
// known form. UPDATE=1 writes the page.
func TestPage(t *testing.T) {
	got, err := write(repository)
	require.NoError(t, err)
	file := filepath.Join("..", "..", "docs", "evidence.md")
	if os.Getenv("UPDATE") != "" {
		require.NoError(t, os.WriteFile(file, got.Bytes(), 0o666))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(want), got.String(), "go run ./cmd/evidence > docs/evidence.md rewrites it")
}

// TestEveryEmbeddedTable: no table is embedded anywhere in the program whose rows are not counted.
func TestEveryEmbeddedTable(t *testing.T) {
	list, err := tables(repository)
	require.NoError(t, err)
	var counted []string
	for _, table := range list {
		counted = append(counted, table.path)
	}
	directive := regexp.MustCompile(`(?m)^\s*//go:embed (.*\.csv)$`)
	var seen int
	require.NoError(t, fs.WalkDir(repository, ".", func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (d.Name() == "node_modules" || d.Name() == "testdata" || p == "cmd/evidence"):
			return fs.SkipDir
		case path.Ext(p) != ".go":
			return nil
		}
		text, err := fs.ReadFile(repository, p)
		for _, m := range directive.FindAllStringSubmatch(string(text), -1) {
			names, err := fs.Glob(repository, path.Join(path.Dir(p), m[1]))
			assert.NoError(t, err)
			names = slices.DeleteFunc(names, isWords)
			assert.Subset(t, counted, names, p)
			seen += len(names)
		}
		return err
	}))
	assert.Equal(t, len(counted), seen, "a table that is counted is embedded")
}

// TestForms: what each form of a source counts as, and what is wrong with the others.
func TestForms(t *testing.T) {
	for source, want := range map[string]struct {
		basis
		beside bool
		fault  string
	}{
		"ASCE 7-16 Table 12.2-1":                  {read, false, ""},
		"Lee and others 2007":                     {read, false, ""},
		"definition":                              {made, false, ""},
		"measured: scatter of the time histories": {made, false, ""},
		"Goel and Chopra 1997, from memory; beside it: Hsiao 2009: 2": {remembered, true, ""},
		"Goel and Chopra 1997, from memory" + none:                    {remembered, false, ""},
		"common practice, no source" + none:                           {practice, false, ""},
		"judgement: as walls; beside it: Lee 2007: 2":                 {judged, true, ""},
		"Lee 2007, from memory; which is judgement" + none:            {judged, false, ""},

		"engineers say so":               {numBases, false, "names no dated publication"},
		"judgement":                      {judged, false, "must end either with"},
		"from memory":                    {remembered, false, "must end either with"},
		"judgement; beside it: a friend": {judged, true, "has no dated publication"},
		"judgement; beside it: Lee 2007, from memory": {judged, true, "must have been read"},
		"Lee 2007" + none:              {read, false, "needs no value beside it"},
		"Lee 2007; beside it: Li 2008": {read, true, "needs no value beside it"},
	} {
		b, beside, err := judge(source)
		assert.Equal(t, want.basis, b, source)
		assert.Equal(t, want.beside, beside, source)
		if want.fault == "" {
			assert.NoError(t, err, source)
		} else {
			assert.ErrorContains(t, err, want.fault, source)
		}
	}
}

// TestRowWithoutEvidence: a row added without a source of a known form, and a table without
// sources, stop the page and are named.
func TestRowWithoutEvidence(t *testing.T) {
	tree := fstest.MapFS{}
	for _, layer := range layers {
		tree[layer] = &fstest.MapFile{Mode: fs.ModeDir}
	}
	put := func(text string) { tree["archetypes/a.csv"] = &fstest.MapFile{Data: []byte(text)} }
	put("name,source\nfirst,Lee 2007\nsecond,the same\nthird,judgement; beside it: Li 2008: 3\n")
	page, err := write(tree)
	require.NoError(t, err)
	assert.Contains(t, page.String(), "| archetypes/a.csv | 3 | 2 | 0 | 0 / 0 | 0 / 0 | 1 / 0 |\n")
	assert.Contains(t, page.String(), "| all | 3 | 2 | 0 | 0 / 0 | 0 / 0 | 1 / 0 |\n")

	put("name,source\nfirst,Lee 2007\nsecond,a good guess\n")
	_, err = write(tree)
	assert.ErrorContains(t, err, `archetypes/a.csv row 3 (second): "a good guess": names no dated publication`)
	put("name,value\nfirst,1\n")
	_, err = write(tree)
	assert.ErrorContains(t, err, "archetypes/a.csv: no column source")
}

// TestFound: each value to be built in names a file of the repository, a dated source and how it
// is known.
func TestFound(t *testing.T) {
	rows, err := csv.NewReader(strings.NewReader(foundCSV)).ReadAll()
	require.NoError(t, err)
	for i, row := range rows[1:] {
		_, err := fs.Stat(repository, row[0])
		assert.NoError(t, err, "row %d", i+2)
		assert.Regexp(t, dated, row[4], "row %d", i+2)
		assert.Contains(t, []string{"read", "computed here from data", "known to exist"}, row[5], "row %d", i+2)
	}
}
