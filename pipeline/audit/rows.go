package audit

import (
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"iter"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"

	"plinth/pipeline/output"
)

// A row is one row of a table as text, whatever format it was read from. It is valid until the next
// row is read.
type row struct {
	file   string
	n      int // of the row, 1 first
	place  map[string]int
	cells  []string
	number []bool // the cell is of a column of floating-point numbers; Parquet only
}

func (r *row) text(name string) string {
	i, ok := r.place[name]
	if !ok {
		return ""
	}
	return r.cells[i]
}

// float returns a number. It is NaN for a missing one, and +Inf for a text that is not a number: no
// rule takes +Inf for possible.
func (r *row) float(name string) float64 {
	s := r.text(name)
	if s == "" {
		return math.NaN()
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(v) {
		return math.Inf(1)
	}
	return v
}

// table returns the name of the row's table.
func (r *row) table() string {
	name, _, _ := strings.Cut(r.file, ".")
	return name
}

func (r *row) where() string { return fmt.Sprintf("%s row %d (%s)", r.file, r.n, r.id()) }

func (r *row) id() string {
	s := strconv.QuoteToGraphic(r.text("building_id"))
	if len(s) > 60 {
		s = s[:60] + "..."
	}
	return s
}

// rowReaders read the rows of a file by its format.
var rowReaders = map[string]func(path, name string) iter.Seq2[*row, error]{
	output.FormatCSV:     csvRows,
	output.FormatParquet: parquetRows,
}

// tableFormats are the formats that rows are read from. The first that a run has is used.
var tableFormats = []string{output.FormatCSV, output.FormatParquet}

// rows yields the rows of a table from its CSV file, or from its Parquet file if there is no CSV.
// It yields none if the run has neither.
func (r *run) rows(table string) iter.Seq2[*row, error] {
	for _, format := range tableFormats {
		if name := table + "." + format; r.has(name) {
			return r.until(rowReaders[format](r.path(name), name))
		}
	}
	return func(func(*row, error) bool) {}
}

// until yields rows until the context of the audit ends.
func (r *run) until(rows iter.Seq2[*row, error]) iter.Seq2[*row, error] {
	return func(yield func(*row, error) bool) {
		for row, err := range rows {
			if err == nil && row.n%4096 == 0 && r.ctx.Err() != nil {
				row, err = nil, context.Cause(r.ctx)
			}
			if !yield(row, err) || err != nil {
				return
			}
		}
	}
}

// each calls f for every row of a table and notes that the table was seen.
func (r *run) each(n *notes, table string, f func(*row)) error {
	count, file := 0, ""
	for row, err := range r.rows(table) {
		if err != nil {
			return err
		}
		count++
		file = row.file
		f(row)
	}
	if file == "" && r.holds(table) {
		file = table
	}
	if file != "" {
		n.saw("%d rows of %s", count, file)
	}
	return nil
}

// ranked are the tables whose rows have a rank and a place.
var ranked = []string{"buildings", "candidates"}

// eachOf calls each for several tables. The number n of a row is 1 at the beginning of each table.
func (r *run) eachOf(n *notes, tables []string, f func(*row)) error {
	for _, table := range tables {
		if err := r.each(n, table, f); err != nil {
			return err
		}
	}
	return nil
}

// holds reports whether the run has rows of a table.
func (r *run) holds(table string) bool {
	return slices.ContainsFunc(tableFormats, func(format string) bool { return r.has(table + "." + format) })
}

func csvRows(path, name string) iter.Seq2[*row, error] {
	return func(yield func(*row, error) bool) {
		f, err := os.Open(path)
		if err != nil {
			yield(nil, err)
			return
		}
		defer f.Close()
		c := csv.NewReader(f)
		c.ReuseRecord = true
		header, err := c.Read()
		if err != nil {
			yield(nil, fmt.Errorf("%s: header: %w", name, err))
			return
		}
		out := &row{file: name, place: places(header)}
		for {
			record, err := c.Read()
			if errors.Is(err, io.EOF) {
				return
			}
			if err != nil {
				yield(nil, fmt.Errorf("%s: %w", name, err))
				return
			}
			out.n++
			out.cells = out.cells[:0]
			for _, cell := range record {
				out.cells = append(out.cells, output.RawText(cell))
			}
			if !yield(out, nil) {
				return
			}
		}
	}
}

func places(names []string) map[string]int {
	out := make(map[string]int, len(names))
	for i, n := range names {
		out[n] = i
	}
	return out
}
