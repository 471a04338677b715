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

// Options bound a Sorter. The zero value means DefaultMemory and the system's folder for temporary
// files.
type Options struct {
	Memory int64  // in bytes, approximately; 0 means DefaultMemory
	Folder string // in which the folder of the sorted runs is made
	Last   bool   // each run is brought safely to disk when it is written, so that Save need not wait
}

// A Sorter sorts records that do not fit into memory. Records come back in the order of their keys
// as bytes. Records of equal keys come back in the order of their payloads. The result therefore
// depends on the set of records alone, not on the order or the goroutines they were added by.
//
// Records gather in memory. When they fill half of the budget, they are sorted and written to a
// temporary file as a run, while others gather in the other half. Sorted merges the runs. Records
// that fit into half of the budget never touch the disk.
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
	away    chan written // the result of the spill at work; nil for none
	spare   *records     // empty
	folder  string       // of the runs, "" before the first spill
	runs    []spilled
	made    int  // runs ever made, for their names
	saved   bool // some runs outlive the Sorter
	sorted  bool
	merging *Merge // open on the runs
	err     error  // the first failure, returned from then on
}

// written is the result of a spill: the run, and the records it was made of, which are now empty.
type written struct {
	spilled
	from *records
	err  error
}

const maxRecord = 16 << 20 // bytes of a record; one of ours has a few hundred

// ErrRecordTooLarge is returned by Add for a record of 16 MB or more.
var ErrRecordTooLarge = errors.New("ranking: record of 16 MB or more")

// A SortError says that sorted runs could not be written or read, as on a full disk. Err is the
// system's error.
type SortError struct {
	Op   string // what was attempted
	Path string
	Err  error
}

// Error says what failed, where, and what can be done.
func (e *SortError) Error() string {
	return fmt.Sprintf("ranking: %s %s: %v%s", e.Op, e.Path, e.Err, e.remedy())
}

// remedy returns what can be done about the system's error, "" where nothing is known.
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

// Add adds a record, which it copies. Several goroutines may call it at once. It panics after Sorted.
// After a failure, every call returns that failure.
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

// spill starts a goroutine that writes the records to disk. It first waits for the spill before.
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

// wait waits until the records of the last spill are on disk.
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

// Sorted returns the records in order. It may be called once, and nothing may be added afterwards.
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
	s.filling, s.spare = nil, nil // the merge needs the memory
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

// Spilled returns the number of runs that were written so far.
func (s *Sorter) Spilled() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.made
}

// Close removes the files of the Sorter, except for runs that Save returned, and frees its memory.
// Its Merge must not be used afterwards. Close may be called twice.
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
