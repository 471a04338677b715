package ranking

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
	"sync"
)

// DefaultMemory is the memory in bytes a Sorter uses unless told otherwise.
const DefaultMemory = 256 << 20

// SorterOptions bound a Sorter. The zero value is DefaultMemory and the system's
// folder for temporary files.
type SorterOptions struct {
	Memory int64  // bytes, about; 0 is DefaultMemory
	Folder string // where sorted runs are spilled, in a folder of their own
}

// A Sorter sorts records outside memory. A record is a key and a payload, both
// opaque: records come back in the order of their keys as bytes, and of their
// payloads where keys are equal. What comes back therefore depends on the set of
// records only, not on the order or the goroutines they were added by.
//
// Records gather in memory; when the budget is reached they are sorted and
// spilled to a temporary file as a run, and Sorted merges the runs. A stock that
// fits the budget never touches the disk.
//
//	s := ranking.NewSorter(ranking.SorterOptions{})
//	defer s.Close()
//	... s.Add(key, payload) ...
//	m, err := s.Sorted()
//	for m.Next() { ... m.Key(), m.Payload() ... }
//	err = m.Err()
type Sorter struct {
	memory int64
	parent string

	mu      sync.Mutex
	blocks  [][]byte // bytes of the records, key then payload; none is ever moved
	block   int      // index of the block being filled
	entries []entry
	held    int64  // bytes of blocks and entries
	folder  string // of the runs, "" before the first spill
	runs    []spilled
	made    int  // runs ever made, for their names
	saved   bool // some runs outlive the Sorter
	sorted  bool
	merging *Merge // open on the runs
	err     error  // the first failure, returned from then on
}

// An entry finds one record in the blocks. The first bytes of the key decide
// most comparisons without a look at the record.
type entry struct {
	prefix          uint64
	block, offset   uint32
	keyLen, dataLen uint32
}

const (
	entrySize = 24       // bytes of an entry
	maxRecord = 16 << 20 // bytes of a record; one of ours has a few hundred
)

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
	return fmt.Sprintf("ranking: %s %s: %v (free space there, or name another folder for temporary files)", e.Op, e.Path, e.Err)
}

// Unwrap returns the system's error.
func (e *SortError) Unwrap() error { return e.Err }

// NewSorter returns an empty Sorter. It touches no file before its first spill.
func NewSorter(o SorterOptions) *Sorter {
	s := &Sorter{memory: o.Memory, parent: o.Folder}
	if s.memory <= 0 {
		s.memory = DefaultMemory
	}
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
	if more := s.grows(size); more > 0 && s.held+more > s.memory && len(s.entries) > 0 {
		if s.err = s.spill(); s.err != nil {
			return s.err
		}
	}
	b := s.room(size)
	e := entry{prefix(key), uint32(s.block), uint32(len(*b)), uint32(len(key)), uint32(len(payload))}
	*b = append(append(*b, key...), payload...)
	if len(s.entries) == cap(s.entries) {
		s.held -= int64(cap(s.entries)) * entrySize
		s.entries = slices.Grow(s.entries, 1)
		s.held += int64(cap(s.entries)) * entrySize
	}
	s.entries = append(s.entries, e)
	return nil
}

// grows returns by how many bytes a record of so many would grow the Sorter.
func (s *Sorter) grows(size int) int64 {
	var more int64
	if len(s.entries) == cap(s.entries) {
		more = int64(cap(s.entries)+1) * entrySize // append keeps old and new for a moment
	}
	for _, b := range s.blocks[min(s.block, len(s.blocks)):] {
		if cap(b)-len(b) >= size {
			return more
		}
	}
	return more + int64(max(size, s.blockSize()))
}

// blockSize is what a new block holds unless a record is larger.
func (s *Sorter) blockSize() int { return int(min(1<<20, max(s.memory/16, 512))) }

// room returns the block that takes a record of so many bytes, a new one if need be.
func (s *Sorter) room(size int) *[]byte {
	for ; s.block < len(s.blocks); s.block++ {
		b := &s.blocks[s.block]
		if cap(*b)-len(*b) >= size {
			return b
		}
	}
	s.blocks = append(s.blocks, make([]byte, 0, max(size, s.blockSize())))
	s.held += int64(cap(s.blocks[s.block]))
	return &s.blocks[s.block]
}

// prefix returns the first eight bytes of a key as a number in the same order,
// short keys filled with zeros.
func prefix(key []byte) uint64 {
	if len(key) >= 8 {
		return binary.BigEndian.Uint64(key)
	}
	var b [8]byte
	copy(b[:], key)
	return binary.BigEndian.Uint64(b[:])
}

func (s *Sorter) record(e *entry) (key, payload []byte) {
	r := s.blocks[e.block][e.offset:]
	return r[:e.keyLen], r[e.keyLen : e.keyLen+e.dataLen]
}

// order sorts the entries in memory.
func (s *Sorter) order() {
	slices.SortFunc(s.entries, func(a, b entry) int {
		if a.prefix != b.prefix {
			return cmp.Compare(a.prefix, b.prefix)
		}
		ka, pa := s.record(&a)
		kb, pb := s.record(&b)
		return compareRecords(ka, pa, kb, pb)
	})
}

// compareRecords orders records by key, then by payload.
func compareRecords(keyA, payloadA, keyB, payloadB []byte) int {
	if c := bytes.Compare(keyA, keyB); c != 0 {
		return c
	}
	return bytes.Compare(payloadA, payloadB)
}

// spill sorts what is in memory and writes it as a run.
func (s *Sorter) spill() error {
	s.order()
	w, err := s.newRun()
	if err != nil {
		return err
	}
	for i := range s.entries {
		w.write(s.record(&s.entries[i]))
	}
	if err := w.close(); err != nil {
		return err
	}
	s.runs = append(s.runs, w.spilled)
	s.entries, s.block = s.entries[:0], 0
	s.blocks = slices.DeleteFunc(s.blocks, func(b []byte) bool { return cap(b) > s.blockSize() })
	s.held = int64(cap(s.entries)) * entrySize
	for i := range s.blocks {
		s.blocks[i] = s.blocks[i][:0]
		s.held += int64(cap(s.blocks[i]))
	}
	return nil
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
	if len(s.runs) == 0 {
		s.order()
		return &Merge{sorter: s}, nil
	}
	if len(s.entries) > 0 {
		if s.err = s.spill(); s.err != nil {
			return nil, s.err
		}
	}
	s.entries, s.blocks = nil, nil // the merge has the memory now
	s.merging, s.err = s.merge()
	return s.merging, s.err
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
	var err error
	if s.merging != nil {
		err, s.merging = s.merging.close(), nil
	}
	err = errors.Join(err, s.remove())
	s.sorted, s.entries, s.blocks, s.runs, s.folder = true, nil, nil, nil, ""
	return err
}
