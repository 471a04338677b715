package source

import (
	"errors"
	"fmt"
	"io"
	"runtime/debug"

	"github.com/parquet-go/parquet-go"

	"github.com/paulmach/orb"

	"plinth/pipeline/internal/sizes"
	"plinth/pipeline/inventory/fault"
)

// A parquetSource gives the rows of a Parquet file, of whose columns the flat
// ones at the root are read. With the key "geo" in its footer it is a GeoParquet
// file. The library may panic on a damaged file: every call of it is guarded.
type parquetSource struct {
	Frame
	in      io.ReaderAt
	size    int64
	parquet *parquet.File
	leaves  []*parquet.Column // of the header
	shape   *parquetColumn    // of the geometries, nil if there are none
	picked  []parquetColumn
	group   int   // row group to open next
	left    int64 // rows left of the open one
	last    int   // number of the last row read
}

// openParquet reads the footer.
func openParquet(file string, in io.Reader) (*parquetSource, error) {
	at, ok := in.(io.ReaderAt)
	seek, also := in.(io.Seeker)
	if !ok || !also {
		return nil, &fault.FileError{File: file, Key: "inventory.format",
			Rule: "a Parquet file is read from a file, not from a stream", Remedy: "save it first"}
	}
	size, err := seek.Seek(0, io.SeekEnd)
	s := &parquetSource{Frame: Frame{File: file, Typed: true}, in: at, size: size}
	if err != nil {
		return nil, s.Broken(err)
	}
	if err := sizes.CheckFooter(at, size); err != nil {
		return nil, s.damaged("not a Parquet file that can be read", err)
	}
	err = s.guarded("the footer cannot be read", func() error {
		s.parquet, err = parquet.OpenFile(at, size, parquet.SkipPageIndex(true),
			parquet.SkipBloomFilters(true))
		if err != nil {
			return err
		}
		return s.describe()
	})
	if err != nil {
		return nil, err
	}
	return s, nil
}

// guarded runs f, which calls the library, and turns its errors and panics into
// errors of the file.
func (s *parquetSource) guarded(what string, f func() error) (err error) {
	faults := debug.SetPanicOnFault(true)
	defer func() {
		debug.SetPanicOnFault(faults)
		if p := recover(); p != nil {
			err = s.damaged(what, fmt.Errorf("%v", p))
		}
	}()
	err = f()
	var known *fault.FileError
	if err == nil || err == io.EOF || errors.As(err, &known) {
		return err
	}
	var refused sizes.NotRead
	if errors.As(err, &refused) {
		return &fault.FileError{File: s.File, Rule: err.Error(),
			Remedy: "write it packed by zstd, snappy, gzip or brotli, in plain or dictionary encoding"}
	}
	return s.damaged(what, err)
}

// describe names the columns that can be read.
func (s *parquetSource) describe() error {
	geometry, err := s.geometryColumn()
	if err != nil {
		return err
	}
	for _, c := range s.parquet.Root().Columns() {
		if !c.Leaf() || c.Repeated() {
			continue // nested: boxes and lists
		}
		if geometry != "" && c.Name() == geometry {
			if c.Type().Kind() != parquet.ByteArray {
				return errors.New("the column of geometries does not hold bytes")
			}
			s.shape = &parquetColumn{leaf: c}
			s.Drawn = true
			continue
		}
		if bare(c.Type()) {
			s.Bytes = append(s.Bytes, len(s.Header))
		}
		s.leaves = append(s.leaves, c)
		s.Header = append(s.Header, c.Name())
	}
	if geometry != "" && s.shape == nil {
		return fmt.Errorf("there is no column of geometries called %q", geometry)
	}
	return nil
}

func (s *parquetSource) Pick(at []int) {
	for _, i := range at {
		s.picked = append(s.picked, parquetColumn{leaf: s.leaves[i], text: cellText(s.leaves[i])})
	}
}

// Next appends up to n rows.
func (s *parquetSource) Next(to *Rows, n int) error {
	what := fmt.Sprintf("the rows behind row %d cannot be read", s.last)
	return s.guarded(what, func() error {
		for n > 0 {
			if s.left == 0 {
				if err := s.openGroup(); err != nil {
					return err
				}
				continue
			}
			m := int(min(int64(n), s.left))
			if err := s.readRows(to, m); err != nil {
				return err
			}
			n -= m
			s.left -= int64(m)
		}
		return nil
	})
}

// readRows reads m rows of the open row group, column by column.
func (s *parquetSource) readRows(to *Rows, m int) error {
	for i := range s.picked {
		c := &s.picked[i]
		c.cells = c.cells[:0]
		for range m {
			v, err := c.next()
			if err != nil {
				return fmt.Errorf("column %s: %w", c.leaf.Name(), err)
			}
			cell := ""
			if !v.IsNull() {
				cell = c.text(v)
			}
			c.cells = append(c.cells, cell)
		}
	}
	for i := range m {
		if err := s.add(to, i); err != nil {
			return err
		}
	}
	return nil
}

// add appends row i of those whose cells were read.
func (s *parquetSource) add(to *Rows, i int) error {
	var shape orb.Geometry
	var bad error
	if s.shape != nil {
		v, err := s.shape.next()
		if err != nil {
			return fmt.Errorf("column %s: %w", s.shape.leaf.Name(), err)
		}
		if !v.IsNull() {
			shape, bad = parseWKB(v.ByteArray())
		}
	}
	s.last++
	to.N++
	if bad != nil {
		to.Bad = append(to.Bad, Bad{Line: s.last, Fault: BadFeature, Detail: bad.Error()})
		return nil
	}
	to.Lines = append(to.Lines, s.last)
	if s.shape != nil {
		to.Shapes = append(to.Shapes, shape)
	}
	for k := range s.picked {
		to.Cells = append(to.Cells, s.picked[k].cells[i])
	}
	return nil
}

// Close ends the reading.
func (s *parquetSource) Close() error {
	return s.guarded("it cannot be closed", func() error { s.closePages(); return nil })
}

// Samples returns up to three cells of a column of the first row group.
func (s *parquetSource) Samples(at int) []string {
	probe := &parquetSource{Frame: s.Frame, in: s.in, size: s.size, parquet: s.parquet, leaves: s.leaves}
	probe.Pick([]int{at})
	var to Rows
	probe.Next(&to, 50) // an error is for the reading proper to meet
	probe.Close()
	var out []string
	for _, c := range to.Cells {
		out = sample(out, c)
	}
	return out
}
