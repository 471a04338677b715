package output

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"sync/atomic"

	"golang.org/x/sync/errgroup"
)

// The formats of tables. Those with points are for tables with lon and lat.
const (
	FormatCSV        = "csv"
	FormatParquet    = "parquet"
	FormatGeoPackage = "gpkg"
	FormatGeoJSON    = "geojson"  // one collection
	FormatGeoLines   = "geojsonl" // one feature a line
	FormatTiles      = "mbtiles"  // vector tiles
)

// Formats lists the formats in the order they are shown.
var Formats = []string{FormatParquet, FormatCSV, FormatGeoPackage, FormatGeoJSON, FormatGeoLines, FormatTiles}

// A Sheet writes the rows of one table to a file of each format, as part of a
// Set. From the first batch on each file has a goroutine of its own, until Close.
type Sheet[R any] struct {
	rows   int64
	batch  *batch[R] // being filled
	free   chan *batch[R]
	lanes  []*lane[R]
	ending errgroup.Group
	begun  bool
	failed atomic.Bool
}

type rowWriter[R any] interface {
	Write(*R) error
	Close() error
}

// A lane is the way of rows into one file.
type lane[R any] struct {
	in chan *batch[R]
	w  rowWriter[R]
	f  *File
}

// A batch is rows on their way into the files. Few go round, so that memory is bounded.
type batch[R any] struct {
	rows []R
	left atomic.Int32 // lanes that have not written it
}

const (
	batchRows = 256 // some 300 kB
	batches   = 4
)

// WriteTable writes rows as the files of table t in set.
func WriteTable[R any](set *Set, t *Table[R], about About, rows []R, formats ...string) error {
	s, err := NewSheet(set, t, about, formats...)
	if err != nil {
		return err
	}
	for i := range rows {
		if err = s.Write(&rows[i]); err != nil {
			break
		}
	}
	return errors.Join(err, s.Close())
}

// NewSheet starts the files of table t in set, for each of formats NAME.FORMAT;
// beside NAME.csv its description NAME.csv-metadata.json, beside NAME.gpkg a
// style for maps, NAME.sld.
func NewSheet[R any](set *Set, t *Table[R], about About, formats ...string) (*Sheet[R], error) {
	s := &Sheet[R]{free: make(chan *batch[R], batches)}
	for _, format := range formats {
		if err := s.start(set, t, about, format); err != nil {
			return nil, err
		}
	}
	for range batches {
		s.free <- &batch[R]{rows: make([]R, 0, batchRows)}
	}
	s.batch = <-s.free
	return s, nil
}

// start starts the file of one format, and what stands beside it.
func (s *Sheet[R]) start(set *Set, t *Table[R], about About, format string) error {
	if !slices.Contains(Formats, format) {
		return fmt.Errorf("output %s: no format %q: use %s", t.Name, format, strings.Join(Formats, ", "))
	}
	if !t.Point && format != FormatCSV && format != FormatParquet {
		return fmt.Errorf("output %s: has no points for format %q", t.Name, format)
	}
	f, err := set.Create(t.Name + "." + format)
	if err != nil {
		return err
	}
	w, err := newRowWriter(f, t, about, format)
	if err != nil {
		return err
	}
	s.lanes = append(s.lanes, &lane[R]{make(chan *batch[R], batches), w, f})
	switch {
	case format == FormatCSV:
		return aside(set, t.Name+".csv-metadata.json", func(w io.Writer) error { return WriteCSVMetadata(w, t, about) })
	case format == FormatGeoPackage && t.column("rank") != nil:
		return aside(set, t.Name+".sld", func(w io.Writer) error { return WriteStyle(w, t) })
	}
	return nil
}

// newRowWriter returns the writer of one format to f.
func newRowWriter[R any](f *File, t *Table[R], about About, format string) (rowWriter[R], error) {
	switch format {
	case FormatParquet:
		return NewParquet(f, t, about)
	case FormatGeoPackage:
		return NewGeoPackage(f.Path(), t, about)
	case FormatTiles:
		return NewTiles(f.Path(), t, about)
	case FormatGeoJSON:
		return NewGeoJSON(f, t), nil
	case FormatGeoLines:
		return NewGeoJSONLines(f, t), nil
	default:
		return NewCSV(f, t), nil
	}
}

// aside adds to set a file that is written at once.
func aside(set *Set, name string, write func(io.Writer) error) error {
	f, err := set.Create(name)
	if err != nil {
		return err
	}
	return write(f)
}

// run writes the batches of a lane and ends its file. After a failure it takes what
// comes and drops it.
func (s *Sheet[R]) run(l *lane[R]) error {
	var err error
	for b := range l.in {
		for i := range b.rows {
			if err == nil {
				err = l.w.Write(&b.rows[i])
			}
		}
		if err != nil {
			s.failed.Store(true)
		}
		if b.left.Add(-1) == 0 {
			s.free <- b // never blocks: there is room for every batch
		}
	}
	if err == nil {
		err = l.w.Close()
	}
	l.f.Rows = s.rows
	return errors.Join(err, l.f.Close())
}

// Write writes one row to every format. The row is the caller's again
// afterwards. After a failure it may return nil until Close tells of it.
func (s *Sheet[R]) Write(row *R) error {
	s.batch.rows = append(s.batch.rows, *row)
	s.rows++
	if len(s.batch.rows) < batchRows {
		return nil
	}
	s.pass()
	s.batch = <-s.free
	s.batch.rows = s.batch.rows[:0]
	if s.failed.Load() {
		return errFailed
	}
	return nil
}

// errFailed is what Write returns once a file could not be written; Close says why.
var errFailed = errors.New("output: the file could not be written")

// pass hands the batch to every lane.
func (s *Sheet[R]) pass() {
	if !s.begun {
		s.begun = true
		for _, l := range s.lanes {
			s.ending.Go(func() error { return s.run(l) })
		}
	}
	b := s.batch
	b.left.Store(int32(len(s.lanes)))
	for _, l := range s.lanes {
		l.in <- b
	}
	if len(s.lanes) == 0 {
		s.free <- b
	}
}

// Close ends the files and returns the first failure. They are still aside until the
// Set is committed.
func (s *Sheet[R]) Close() error {
	s.pass()
	for _, l := range s.lanes {
		close(l.in)
	}
	return s.ending.Wait()
}
