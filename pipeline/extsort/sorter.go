package extsort

import (
	"errors"
	"fmt"
	"io/fs"
	"sync"
	"syscall"
)

// DefaultMemory is the memory in bytes a Sorter uses unless told otherwise.
const DefaultMemory = 256 << 20

// SorterOptions bound a Sorter. The zero value is DefaultMemory and the system's
// folder for temporary files.
type Options struct {
	Memory int64  // bytes, about; 0 is DefaultMemory
	Folder string // where sorted runs are spilled, in a folder of their own
	Last   bool   // runs are safely on disk as soon as they are written: Save need not wait
}

// A Sorter sorts records outside memory. A record is a key and a payload, both
// opaque: records come back in the order of their keys as bytes, and of their
// payloads where keys are equal. What comes back therefore depends on the set of
// records only, not on the order or the goroutines they were added by.
//
// Records gather in memory; when half of the budget is reached they are sorted and
// spilled to a temporary file as a run, while others gather in the other half, and
// Sorted merges the runs. A stock that fits half the budget never touches the disk.
//
//	s := extsort.NewSorter(extsort.Options{})
//	defer s.Close()
//	... s.Add(key, payload) ...
//	m, err := s.Sorted()
//	for m.Next() { ... m.Key(), m.Payload() ... }
//	err = m.Err()
type Sorter struct {
	memory int64
	parent string
	last   bool

	mu      sync.Mutex
	filling *records
	away    chan written // of records that a goroutine brings to disk; nil for none
	spare   *records     // empty
	folder  string       // of the runs, "" before the first spill
	runs    []spilled
	made    int  // runs ever made, for their names
	saved   bool // some runs outlive the Sorter
	sorted  bool
	merging *Merge // open on the runs
	err     error  // the first failure, returned from then on
}

// written is a run and the records, now empty, that it was made of.
type written struct {
	spilled
	from *records
	err  error
}

const maxRecord = 16 << 20 // bytes of a record; one of ours has a few hundred

// ErrRecordTooLarge is returned by Add for a record of 16 MB or more.
var ErrRecordTooLarge = errors.New("ranking: record of 16 MB or more")

// A SortError is a failure to write or read the sorted runs of a Sorter, such as
// a full disk. Err is the system's error.
type SortError struct {
	Op   string // what was attempted
	Path string
	Err  error
}

// Error says what failed, where, and what can be done.
func (e *SortError) Error() string {
	return fmt.Sprintf("ranking: %s %s: %v%s", e.Op, e.Path, e.Err, e.remedy())
}

// remedy says what can be done where the system's error says what is wrong.
func (e *SortError) remedy() string {
	switch is := func(err error) bool { return errors.Is(e.Err, err) }; {
	case is(syscall.ENOSPC), is(syscall.EDQUOT):
		return " (make room on that disk, or name an output folder on another)"
	case is(syscall.EROFS), is(fs.ErrPermission):
		return " (name an output folder that may be written to)"
	case is(syscall.EMFILE), is(syscall.ENFILE):
		return " (raise the limit of open files, such as by ulimit -n 1024, or give the run more --memory)"
	}
	return ""
}

// Unwrap returns the system's error.
func (e *SortError) Unwrap() error { return e.Err }

// NewSorter returns an empty Sorter. It touches no file before its first spill.
func NewSorter(o Options) *Sorter {
	s := &Sorter{memory: o.Memory, parent: o.Folder, last: o.Last}
	if s.memory <= 0 {
		s.memory = DefaultMemory
	}
	s.filling = s.room()
	return s
}

// Add adds a record, which it copies. It may be called from several goroutines
// at once, but not once Sorted has been called: that panics. After a failure
// every call returns it.
func (s *Sorter) Add(key, payload []byte) error {
	size := len(key) + len(payload)
	if size >= maxRecord {
		return ErrRecordTooLarge
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.sorted {
		panic("ranking: Add after Sorted")
	}
	if s.err != nil {
		return s.err
	}
	if s.filling.full(size) {
		if s.spill(); s.err != nil {
			return s.err
		}
	}
	s.filling.add(key, payload)
	return nil
}

// room returns empty records.
func (s *Sorter) room() *records { return &records{limit: s.memory / 2} }

// spill lets a goroutine bring the records to disk, once the ones before are there.
func (s *Sorter) spill() {
	if s.wait(); s.err != nil {
		return
	}
	w, err := s.newRun()
	if err != nil {
		s.err = err
		return
	}
	from := s.filling
	if s.filling, s.spare = s.spare, nil; s.filling == nil {
		s.filling = s.room()
	}
	away := make(chan written, 1)
	go func() {
		from.sort()
		for i := range from.entries {
			w.write(from.at(i))
		}
		from.clear()
		err := w.close(s.last)
		away <- written{w.spilled, from, err}
	}()
	s.away = away
}

// wait waits for the records on their way to disk.
func (s *Sorter) wait() {
	if s.away == nil {
		return
	}
	w := <-s.away
	s.away, s.spare = nil, w.from
	if s.runs = append(s.runs, w.spilled); s.err == nil {
		s.err = w.err
	}
}

// Sorted ends adding and returns the records in order. It may be called once.
func (s *Sorter) Sorted() (*Merge, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.sorted {
		panic("ranking: Sorted twice")
	}
	s.sorted = true
	if s.err != nil {
		return nil, s.err
	}
	if s.made == 0 && len(s.runs) == 0 {
		s.filling.sort()
		return &Merge{memory: s.filling}, nil
	}
	if s.flush(); s.err != nil {
		return nil, s.err
	}
	s.filling, s.spare = nil, nil // the merge has the memory now
	s.merging, s.err = s.merge()
	return s.merging, s.err
}

// flush brings every record to disk.
func (s *Sorter) flush() {
	if s.err == nil && len(s.filling.entries) > 0 {
		s.spill()
	}
	s.wait()
}

// Spilled returns the number of runs written so far.
func (s *Sorter) Spilled() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.made
}

// Close removes the files of the Sorter, but not those that Save has told of, and
// frees its memory. Its Merge, read to the end or not, must not be used after. Close
// may be called twice.
func (s *Sorter) Close() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.wait()
	var err error
	if s.merging != nil {
		err, s.merging = s.merging.close(), nil
	}
	err = errors.Join(err, s.remove())
	s.sorted, s.filling, s.spare, s.runs, s.folder = true, nil, nil, nil, ""
	return err
}
