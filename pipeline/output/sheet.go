package output

import (
	"errors"
	"sync/atomic"

	"golang.org/x/sync/errgroup"
)

// A Sheet writes the rows of one table to a file of each format, as part of a Set. From the first
// batch until Close, each file has a goroutine of its own.
type Sheet[R any] struct {
	rows   int64
	batch  *batch[R] // being filled
	free   chan *batch[R]
	lanes  []*lane[R]
	ending errgroup.Group
	begun  bool
	failed atomic.Bool
}

// A lane carries rows into one file.
type lane[R any] struct {
	in chan *batch[R]
	w  rowWriter[R]
	f  *File
}

// A batch holds rows on their way into the files. The number of batches is fixed, so that memory is
// bounded.
type batch[R any] struct {
	rows []R
	left atomic.Int32 // lanes that have not written it
}

const (
	batchRows = 256 // about 300 kB
	batches   = 4
)

// WriteTable writes rows as the files of table t in set, in the formats of names.
func WriteTable[R any](set *Set, t *Table[R], about About, rows []R, names ...string) error {
	s, err := NewSheet(set, t, about, names...)
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

// NewSheet starts the files of table t in set. names are names of formats. For each of them a Sheet
// writes the file NAME.FORMAT and the file that stands beside it.
func NewSheet[R any](set *Set, t *Table[R], about About, names ...string) (*Sheet[R], error) {
	list := make([]format[R], len(names))
	for i, name := range names {
		var err error
		if list[i], err = formatOf(t, name); err != nil {
			return nil, err
		}
	}
	return newSheet(set, t, about, list)
}

// newSheet starts the files of table t in the formats of list.
func newSheet[R any](set *Set, t *Table[R], about About, list []format[R]) (*Sheet[R], error) {
	s := &Sheet[R]{free: make(chan *batch[R], batches)}
	for i := range list {
		f, w, err := list[i].start(set, t, about)
		if err != nil {
			return nil, err
		}
		s.lanes = append(s.lanes, &lane[R]{make(chan *batch[R], batches), w, f})
	}
	for range batches {
		s.free <- &batch[R]{rows: make([]R, 0, batchRows)}
	}
	s.batch = <-s.free
	return s, nil
}

// run writes the batches of a lane and closes its file. After a failure it drops the batches that
// still come.
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

// Write writes one row to every format. The caller may reuse the row afterwards. After a failure
// Write may return nil; Close then returns the error.
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

// errFailed says that a file could not be written. Close returns the reason.
var errFailed = errors.New("output: the file could not be written")

// pass gives the batch to every lane.
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

// Close closes the files and returns the first failure. The files stay in the working folder until
// the Set is committed.
func (s *Sheet[R]) Close() error {
	s.pass()
	for _, l := range s.lanes {
		close(l.in)
	}
	return s.ending.Wait()
}
