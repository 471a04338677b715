package consequence

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"slices"
	"strconv"
	"strings"
)

// TableError is an invalid value in a table.
type TableError struct {
	File   string
	Line   int    // first line 1
	Column string // name of the column, "" if the whole row is meant
	Value  string // as written
	Rule   string // what is required instead
}

// Error returns the place, the value and the requirement.
func (e *TableError) Error() string {
	at := fmt.Sprintf("%s:%d", e.File, e.Line)
	if e.Column != "" {
		at += ": column " + e.Column
	}
	return fmt.Sprintf("%s: %q: %s", at, e.Value, e.Rule)
}

// row is one line of a table with its place, for error messages. It keeps the first error.
type row struct {
	file   string
	line   int
	header []string
	cell   []string
	err    error
}

// fail records an error of the row unless it has one.
func (r *row) fail(column, value, rule string) {
	if r.err == nil {
		r.err = &TableError{r.file, r.line, column, value, rule}
	}
}

// text returns the cell of a column.
func (r *row) text(column string) string {
	return r.cell[slices.Index(r.header, column)]
}

// number returns the cell of a column as a number from low to high.
func (r *row) number(column string, low, high float64) float64 {
	s := r.text(column)
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(v) || v < low || v > high {
		r.fail(column, s, fmt.Sprintf("want a number from %g to %g", low, high))
		return 0
	}
	return v
}

// word returns the index of a column's cell in words, -1 if it is not among them.
func (r *row) word(column string, words []string) int {
	s := r.text(column)
	i := slices.Index(words, s)
	if i < 0 {
		r.fail(column, s, "want one of "+strings.Join(words, ", "))
	}
	return i
}

// eachRow reads a table whose first line must be header and calls use for each row after it.
// Every row needs a source.
func eachRow(fsys fs.FS, file string, header []string, use func(*row)) error {
	f, err := fsys.Open(file)
	if err != nil {
		return fmt.Errorf("consequence table: %w", err)
	}
	defer f.Close()
	in := csv.NewReader(f)
	in.FieldsPerRecord = len(header)
	first, err := in.Read()
	if err != nil {
		return fmt.Errorf("consequence table %s: %w", file, err)
	}
	if !slices.Equal(first, header) {
		return &TableError{file, 1, "", strings.Join(first, ","), "want the header " +
			strings.Join(header, ",")}
	}
	for {
		cell, err := in.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return fmt.Errorf("consequence table %s: %w", file, err)
		}
		line, _ := in.FieldPos(0)
		r := row{file: file, line: line, header: header, cell: cell}
		if strings.TrimSpace(r.text("source")) == "" {
			r.fail("source", "", `want the source of the row, or "judgement"`)
		}
		use(&r)
		if r.err != nil {
			return r.err
		}
	}
}
