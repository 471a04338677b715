package output

import (
	"fmt"
	"io"
	"slices"
	"strings"
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
// Set.
type Sheet[R any] struct {
	rows    int64
	writers []rowWriter[R]
	files   []*File
}

type rowWriter[R any] interface {
	Write(*R) error
	Close() error
}

// NewSheet starts the files of table t in set, for each of formats NAME.FORMAT;
// beside NAME.csv its description NAME.csv-metadata.json, beside NAME.gpkg a
// style for maps, NAME.sld.
func NewSheet[R any](set *Set, t *Table[R], about About, formats ...string) (*Sheet[R], error) {
	s := &Sheet[R]{}
	for _, format := range formats {
		if !slices.Contains(Formats, format) {
			return nil, fmt.Errorf("output %s: no format %q: use %s", t.Name, format, strings.Join(Formats, ", "))
		}
		if !t.Point && format != FormatCSV && format != FormatParquet {
			return nil, fmt.Errorf("output %s: has no points for format %q", t.Name, format)
		}
		f, err := set.Create(t.Name + "." + format)
		if err != nil {
			return nil, err
		}
		w, err := newRowWriter(f, t, about, format)
		if err != nil {
			return nil, err
		}
		s.files, s.writers = append(s.files, f), append(s.writers, w)
		switch format {
		case FormatCSV:
			err = aside(set, t.Name+".csv-metadata.json", func(w io.Writer) error { return WriteCSVMetadata(w, t, about) })
		case FormatGeoPackage:
			if t.column("rank") != nil {
				err = aside(set, t.Name+".sld", func(w io.Writer) error { return WriteStyle(w, t) })
			}
		}
		if err != nil {
			return nil, err
		}
	}
	return s, nil
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

// Write writes one row to every format. The row is the caller's again
// afterwards.
func (s *Sheet[R]) Write(row *R) error {
	for _, w := range s.writers {
		if err := w.Write(row); err != nil {
			return err
		}
	}
	s.rows++
	return nil
}

// Rows returns the number of rows written.
func (s *Sheet[R]) Rows() int64 { return s.rows }

// Close ends the files. They are still aside until the Set is committed.
func (s *Sheet[R]) Close() error {
	for i, w := range s.writers {
		if err := w.Close(); err != nil {
			return err
		}
		s.files[i].Rows = s.rows
		if err := s.files[i].Close(); err != nil {
			return err
		}
	}
	return nil
}
