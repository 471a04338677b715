package audit

import (
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
	"strconv"
	"strings"

	"github.com/parquet-go/parquet-go"

	"plinth/pipeline/sizes"
)

// parquetRows yields the rows of a file with flat columns and with columns in groups, which are
// named group.column. The library may panic on a damaged file. Such a panic becomes an error here.
func parquetRows(path, name string) iter.Seq2[*row, error] {
	return func(yield func(*row, error) bool) {
		file, closer, err := openParquet(path)
		if err != nil {
			yield(nil, fmt.Errorf("%s: %w", name, err))
			return
		}
		defer closer.Close()
		out := newParquetRow(file, name)
		for i, group := range file.RowGroups() {
			if err := guard(func() error { return checkGroup(file, i) }); err != nil {
				yield(nil, fmt.Errorf("%s: %w", name, err))
				return
			}
			if !groupRows(group, out, yield) {
				return
			}
		}
	}
}

// newParquetRow returns a row with the columns of a file.
func newParquetRow(file *parquet.File, name string) *row {
	var names []string
	for _, path := range file.Schema().Columns() {
		names = append(names, strings.Join(path, "."))
	}
	return &row{file: name, place: places(names), cells: make([]string, len(names)),
		number: make([]bool, len(names))}
}

// checkGroup checks the sizes in a row group before the library trusts them.
func checkGroup(file *parquet.File, group int) error {
	meta := &file.Metadata().RowGroups[group]
	check := sizes.Chunks{In: file, Size: file.Size()}
	for _, path := range file.Schema().Columns() {
		name := strings.Join(path, ".")
		leaf, ok := file.Schema().Lookup(path...)
		if !ok || leaf.MaxRepetitionLevel > 0 {
			return fmt.Errorf("column %s is none of ours", name)
		}
		if err := check.Check(&meta.Columns[leaf.ColumnIndex].MetaData, meta.NumRows,
			leaf.MaxDefinitionLevel); err != nil {
			return fmt.Errorf("column %s: %w", name, err)
		}
	}
	return nil
}

// groupRows yields the rows of one row group and reports whether to go on.
func groupRows(group parquet.RowGroup, out *row, yield func(*row, error) bool) bool {
	rows := group.Rows()
	defer rows.Close()
	buf := make([]parquet.Row, 256)
	for {
		var n int
		err := guard(func() (err error) { n, err = rows.ReadRows(buf); return err })
		for _, values := range buf[:n] {
			out.n++
			for _, v := range values {
				out.cells[v.Column()], out.number[v.Column()] = cellOf(v)
			}
			if !yield(out, nil) {
				return false
			}
		}
		if errors.Is(err, io.EOF) {
			return true
		}
		if err != nil {
			yield(nil, fmt.Errorf("%s: %w", out.file, err))
			return false
		}
	}
}

// cellOf returns a value as the text of a CSV cell, and whether its column holds floating-point
// numbers.
func cellOf(v parquet.Value) (string, bool) {
	if v.IsNull() {
		return "", false
	}
	switch v.Kind() {
	case parquet.Double:
		return strconv.FormatFloat(v.Double(), 'g', -1, 64), true
	case parquet.Int64:
		return strconv.FormatInt(v.Int64(), 10), false
	case parquet.Boolean:
		return strconv.FormatBool(v.Boolean()), false
	case parquet.ByteArray:
		return string(v.ByteArray()), false
	default: // not a type that the program writes
		return v.String(), false
	}
}

// openParquet opens a Parquet file. The file stays open until closer is closed.
func openParquet(path string) (file *parquet.File, closer io.Closer, err error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, nil, err
	}
	s, err := f.Stat()
	if err == nil {
		err = sizes.CheckFooter(f, s.Size())
	}
	if err == nil {
		err = guard(func() (err error) {
			file, err = parquet.OpenFile(f, s.Size(), parquet.SkipPageIndex(true), parquet.SkipBloomFilters(true))
			return err
		})
	}
	if err != nil {
		return nil, nil, errors.Join(err, f.Close())
	}
	return file, f, nil
}

// footer returns the value of a key in the footer of a Parquet file, or "" if the footer has no
// such key.
func footer(path, key string) (value string, err error) {
	file, closer, err := openParquet(path)
	if err != nil {
		return "", err
	}
	defer closer.Close()
	err = guard(func() error { value, _ = file.Lookup(key); return nil })
	return value, err
}

// guard calls f and turns a panic into an error.
func guard(f func() error) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("the file is damaged: %v", p)
		}
	}()
	return f()
}
