package measured

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"slices"
	"strconv"
	"strings"
)

// A row is one line of a table of the folder: its cells by the names of their columns.
type row struct {
	file  string
	line  int
	cells map[string]string
}

// readRows reads a table that has the columns named; those of numbers hold numbers or
// nothing. The error joins everything that is wrong with it.
func readRows(fsys fs.FS, file string, words, numbers []string) ([]row, error) {
	f, err := fsys.Open(file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	r := csv.NewReader(f)
	head, err := r.Read()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	for _, c := range slices.Concat(words, numbers) {
		if !slices.Contains(head, c) {
			return nil, fmt.Errorf("%s: no column %s; its README lists the columns", file, c)
		}
	}
	all, err := r.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	var rows []row
	var errs []error
	for i, cells := range all {
		one := row{file, i + 2, map[string]string{}}
		for j, c := range cells {
			one.cells[head[j]] = strings.TrimSpace(c)
		}
		for _, c := range numbers {
			if raw := one.cells[c]; raw != "" {
				if _, err := strconv.ParseFloat(raw, 64); err != nil {
					errs = append(errs, fmt.Errorf("%s:%d, column %s: %q is no number; leave it empty where there is none",
						file, one.line, c, raw))
				}
			}
		}
		rows = append(rows, one)
	}
	return rows, errors.Join(errs...)
}

// text returns a cell.
func (r *row) text(column string) string { return r.cells[column] }

// number returns a cell as a number, NaN where it is empty.
func (r *row) number(column string) float64 {
	v, err := strconv.ParseFloat(r.cells[column], 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// whole returns a cell as a whole number, 0 where it is empty.
func (r *row) whole(column string) int {
	if v := r.number(column); v == v {
		return int(v)
	}
	return 0
}
