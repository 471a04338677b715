package extsort

import (
	"context"
	"errors"
)

// mostRuns is the largest number of runs that are merged at once. It is below the number of files
// that systems let a process open, once package os has raised that limit. More runs are merged in
// passes.
const mostRuns = 400

// A Merge gives the records of a Sorter in order. It belongs to one goroutine.
type Merge struct {
	memory *records // nil when runs were spilled
	next   int      // entry of memory
	runs   []*run   // heap by record, the least first, when runs were spilled
	begun  bool

	key, payload []byte
	err          error
}

// Next moves to the next record and reports whether there is one. It returns false at the end and
// after a failure. Err tells them apart.
func (m *Merge) Next() bool {
	m.key, m.payload = nil, nil
	if m.err != nil {
		return false
	}
	if m.memory != nil {
		if m.next >= len(m.memory.entries) {
			return false
		}
		m.key, m.payload = m.memory.at(m.next)
		m.next++
		return true
	}
	if m.begun && len(m.runs) > 0 {
		m.advance()
	}
	m.begun = true
	if m.err != nil || len(m.runs) == 0 {
		return false
	}
	m.key, m.payload = m.runs[0].key, m.runs[0].payload
	return true
}

// Key returns the key of the record, valid until the next call of Next.
func (m *Merge) Key() []byte { return m.key }

// Payload returns the payload of the record, valid until the next call of Next.
func (m *Merge) Payload() []byte { return m.payload }

// Err returns the failure that ended the records early, or nil.
func (m *Merge) Err() error { return m.err }

// advance reads the next record of the least run and restores the heap.
func (m *Merge) advance() {
	ok, err := m.runs[0].next()
	if err != nil {
		m.err = err
		return
	}
	if !ok {
		m.err = m.runs[0].close()
		last := len(m.runs) - 1
		m.runs[0] = m.runs[last]
		m.runs = m.runs[:last]
	}
	m.sink(0)
}

// sink moves the run at i down the heap to its place.
func (m *Merge) sink(i int) {
	for {
		least := i
		for c := 2*i + 1; c <= 2*i+2 && c < len(m.runs); c++ {
			if m.runs[c].less(m.runs[least]) {
				least = c
			}
		}
		if least == i {
			return
		}
		m.runs[i], m.runs[least] = m.runs[least], m.runs[i]
		i = least
	}
}

// merge merges runs in passes until few enough are left to be merged at once. It opens those.
func (s *Sorter) merge() (*Merge, error) {
	fan := int(min(mostRuns, max(2, s.memory/int64(3*s.runBlock())))) // a run holds a block, compressed and not
	for len(s.runs) > fan {
		m, err := s.open(s.runs[:fan])
		if err != nil {
			return nil, err
		}
		w, err := s.newRun()
		if err != nil {
			return nil, errors.Join(err, m.close())
		}
		for m.Next() {
			w.write(m.key, m.payload)
		}
		if err := errors.Join(m.err, m.close(), w.close(false)); err != nil {
			return nil, err
		}
		for _, r := range s.runs[:fan] {
			if r.saved {
				continue
			}
			if err := removeRun(r.path); err != nil {
				return nil, err
			}
		}
		s.runs = append(s.runs[fan:], w.spilled)
	}
	return s.open(s.runs)
}

// open opens some runs and returns their merge.
func (s *Sorter) open(runs []spilled) (*Merge, error) {
	m := &Merge{runs: make([]*run, 0, len(runs))}
	for i := range runs {
		r, err := openRun(runs[i].path)
		if err != nil {
			return nil, errors.Join(err, m.close())
		}
		ok, err := r.next()
		if err != nil || !ok {
			if err = errors.Join(err, r.close()); err != nil {
				return nil, errors.Join(err, m.close())
			}
			continue
		}
		m.runs = append(m.runs, r)
	}
	for i := len(m.runs)/2 - 1; i >= 0; i-- {
		m.sink(i)
	}
	return m, nil
}

// close closes the runs that are still open.
func (m *Merge) close() error {
	var all error
	for _, r := range m.runs {
		all = errors.Join(all, r.close())
	}
	m.runs = m.runs[:0]
	return all
}

// ErrEnough ends Each early and without an error.
var ErrEnough = errors.New("enough")

// Each calls f with every record in order. It ends with the first error of f and returns it, except
// for ErrEnough. It also ends when ctx does.
func (s *Sorter) Each(ctx context.Context, f func(key, payload []byte) error) error {
	rows, err := s.Sorted()
	if err != nil {
		return err
	}
	for n := 0; rows.Next(); n++ {
		if n%4096 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if err := f(rows.Key(), rows.Payload()); errors.Is(err, ErrEnough) {
			return nil
		} else if err != nil {
			return err
		}
	}
	return rows.Err()
}
