package output

import "fmt"

// The formats of tables.
const (
	FormatCSV     = "csv"
	FormatParquet = "parquet"
)

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

// NewSheet starts the files of table t in set: NAME.csv with its description
// NAME.csv-metadata.json, or NAME.parquet, for each of formats.
func NewSheet[R any](set *Set, t *Table[R], about About, formats ...string) (*Sheet[R], error) {
	s := &Sheet[R]{}
	for _, format := range formats {
		if format != FormatCSV && format != FormatParquet {
			return nil, fmt.Errorf("output %s: no format %q: use %s or %s", t.Name, format, FormatCSV, FormatParquet)
		}
		f, err := set.Create(t.Name + "." + format)
		if err != nil {
			return nil, err
		}
		s.files = append(s.files, f)
		if format == FormatParquet {
			w, err := NewParquet(f, t, about)
			if err != nil {
				return nil, err
			}
			s.writers = append(s.writers, w)
			continue
		}
		s.writers = append(s.writers, NewCSV(f, t))
		side, err := set.Create(t.Name + ".csv-metadata.json")
		if err != nil {
			return nil, err
		}
		if err := WriteCSVMetadata(side, t, about); err != nil {
			return nil, err
		}
	}
	return s, nil
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
