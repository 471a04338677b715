package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// layers are the folders of the packages that embed tables.
var layers = []string{"hazard", "archetypes", "retrofit", "pipeline"}

// A table is one embedded table, its rows counted by what they rest on.
type table struct {
	path   string
	beside [numBases]int // rows with a published value beside them
	alone  [numBases]int // all others
}

// tables returns every table of the packages that has a column of sources, ordered by path. An
// error joins all rows whose source has none of the known forms.
func tables(root fs.FS) (list []table, err error) {
	var faults []error
	for _, layer := range layers {
		err := fs.WalkDir(root, layer, func(p string, d fs.DirEntry, err error) error {
			switch {
			case err != nil:
				return err
			case d.Name() == "testdata":
				return fs.SkipDir
			case path.Ext(p) != ".csv" || isWords(p):
				return nil
			}
			t, err := count(root, p)
			faults = append(faults, err)
			list = append(list, t)
			return nil
		})
		faults = append(faults, err)
	}
	slices.SortFunc(list, func(a, b table) int { return strings.Compare(a.path, b.path) })
	return list, errors.Join(faults...)
}

// isWords reports whether the table at p holds words of languages and no values, which rest
// on nothing but use.
func isWords(p string) bool { return strings.HasSuffix(p, "_words.csv") }

// count reads the table at p. "the same" stands for the source of the row above.
func count(root fs.FS, p string) (table, error) {
	t := table{path: p}
	f, err := root.Open(p)
	if err != nil {
		return t, err
	}
	defer f.Close()
	in := csv.NewReader(f)
	rows, err := in.ReadAll()
	if err != nil {
		return t, fmt.Errorf("%s: %w", p, err)
	}
	column := slices.Index(rows[0], "source")
	if column < 0 {
		return t, fmt.Errorf("%s: no column source; every table says what its rows rest on", p)
	}
	var faults []error
	var above string
	for i, row := range rows[1:] {
		if row[column] != "the same" {
			above = row[column]
		}
		b, beside, err := judge(above)
		if err != nil {
			faults = append(faults, fmt.Errorf("%s row %d (%s): %q: %w", p, i+2, row[0], row[column], err))
			continue
		}
		if beside {
			t.beside[b]++
		} else {
			t.alone[b]++
		}
	}
	return t, errors.Join(faults...)
}
