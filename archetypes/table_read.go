package archetypes

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
)

// TableError is a fault in a table of systems or eras.
type TableError struct {
	File   string
	Line   int    // the header is 1; 0 for the whole file
	Column string // name of the column, "" for the whole line
	Value  string // as it stands in the file
	Rule   string // what is wrong and what to do
}

// Error returns the problem on one line.
func (e *TableError) Error() string {
	s := e.File
	if e.Line > 0 {
		s += fmt.Sprintf(":%d", e.Line)
	}
	if e.Column != "" {
		s += fmt.Sprintf(": %s %q", e.Column, e.Value)
	}
	return s + ": " + e.Rule
}

// table reads a CSV with a fixed header row by row.
type table struct {
	file   string
	header []string
	csv    *csv.Reader
	row    []string
	line   int
}

func openTable(r io.Reader, file string, header ...string) (*table, error) {
	t := &table{file: file, csv: csv.NewReader(r)}
	t.csv.FieldsPerRecord = -1
	t.csv.ReuseRecord = true
	if err := t.next(); err != nil {
		if err == io.EOF {
			err = &TableError{File: file, Rule: "the file is empty; its first line must be " +
				strings.Join(header, ",")}
		}
		return nil, err
	}
	t.row[0] = strings.TrimPrefix(t.row[0], "\ufeff")
	if !slices.Equal(t.row, header) {
		return nil, &TableError{File: file, Line: t.line, Rule: "the first line must be " +
			strings.Join(header, ",")}
	}
	t.header = header
	return t, nil
}

// next reads the next row; io.EOF ends the table.
func (t *table) next() (err error) {
	t.row, err = t.csv.Read()
	var parse *csv.ParseError
	switch {
	case errors.As(err, &parse):
		return &TableError{File: t.file, Line: parse.Line, Rule: parse.Err.Error()}
	case err != nil:
		return err
	}
	t.line, _ = t.csv.FieldPos(0)
	if t.header != nil && len(t.row) != len(t.header) {
		return &TableError{File: t.file, Line: t.line,
			Rule: fmt.Sprintf("%d cells where the header has %d", len(t.row), len(t.header))}
	}
	return nil
}

func (t *table) fail(column int, rule string) error {
	return &TableError{File: t.file, Line: t.line, Column: t.header[column], Value: t.row[column], Rule: rule}
}

// number reads the cell as a number from lo to hi.
func (t *table) number(column int, lo, hi float64) (float64, error) {
	v, err := strconv.ParseFloat(t.row[column], 64)
	if err != nil || math.IsNaN(v) || v < lo || v > hi {
		return 0, t.fail(column, fmt.Sprintf("must be a number from %g to %g", lo, hi))
	}
	return v, nil
}

// word reads the cell as one of words and returns its index.
func (t *table) word(column int, words []string) (int, error) {
	if i := slices.Index(words, t.row[column]); i >= 0 {
		return i, nil
	}
	return 0, t.fail(column, "must be one of "+strings.Join(words, ", "))
}

// citation reads the source and the confidence in two neighbouring cells.
func (t *table) citation(column int) (citation, error) {
	if strings.TrimSpace(t.row[column]) == "" {
		return citation{}, t.fail(column, "every row names its source; write judgement if there is none")
	}
	c, err := t.word(column+1, confidenceWords[:])
	return citation{t.row[column], Confidence(c), t.line}, err
}

// A systemRow is one row of the table of systems.
type systemRow struct {
	system   int // numSystems for "any"
	quantity int
	value    float64
	citation
}

func readSystemRows(r io.Reader, file string) ([]systemRow, error) {
	t, err := openTable(r, file, "system", "quantity", "value", "source", "confidence")
	if err != nil {
		return nil, err
	}
	systems := append(slices.Clone(systemSlugs[:]), "any")
	names := make([]string, numQuantities)
	for i, q := range quantities {
		names[i] = q.name
	}
	var rows []systemRow
	seen := make(map[[2]int]int)
	for {
		if err := t.next(); err == io.EOF {
			return rows, nil
		} else if err != nil {
			return nil, err
		}
		var row systemRow
		if row.system, err = t.word(0, systems); err != nil {
			return nil, err
		}
		if row.quantity, err = t.word(1, names); err != nil {
			return nil, err
		}
		q := quantities[row.quantity]
		if row.value, err = t.number(2, q.min, q.max); err != nil {
			return nil, err
		}
		if row.citation, err = t.citation(3); err != nil {
			return nil, err
		}
		key := [2]int{row.system, row.quantity}
		if line, dup := seen[key]; dup {
			return nil, t.fail(1, fmt.Sprintf("already given for this system on line %d", line))
		}
		seen[key] = t.line
		rows = append(rows, row)
	}
}

// build fills the traits from the rows, those for "any" first.
func (t *Tables) build(file string) error {
	for s := range t.systems {
		tr := &t.systems[s]
		tr.System = System(s)
		for _, who := range []int{int(numSystems), s} {
			for _, row := range t.rows {
				if row.system == who {
					*quantities[row.quantity].at(tr) = row.value
					tr.citations[row.quantity] = row.citation
				}
			}
		}
		for i, q := range quantities {
			if tr.citations[i].line == 0 {
				return &TableError{File: file, Rule: fmt.Sprintf("no %s for %s: give it, or give it for any",
					q.name, tr.System)}
			}
		}
		if l := tr.Limits; !(l.ImmediateOccupancy <= l.LifeSafety && l.LifeSafety <= l.CollapsePrevention &&
			l.CollapsePrevention <= l.Collapse) {
			return &TableError{File: file,
				Rule: fmt.Sprintf("drift limits of %s must not fall from immediate occupancy to collapse "+
					"prevention and collapse", tr.System)}
		}
		if tr.least(1) > tr.MaximumStrength {
			return &TableError{File: file,
				Rule: fmt.Sprintf("minimum_strength_over_n + minimum_strength of %s is above its "+
					"maximum_strength", tr.System)}
		}
		tr.describe()
	}
	return nil
}
