package ranking

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"
)

// mostRuns is the largest number of runs merged at once, below the number of files
// a system lets a process open once package os has raised it. More runs are merged
// in passes.
const mostRuns = 256

// A Merge gives the records of a Sorter in order. It belongs to one goroutine.
type Merge struct {
	sorter *Sorter
	next   int    // entry, when all is in memory
	runs   []*run // heap by record, the least first, when runs were spilled
	begun  bool

	key, payload []byte
	err          error
}

// Next moves to the next record and reports whether there is one. It returns
// false at the end and on a failure, which Err then tells.
func (m *Merge) Next() bool {
	m.key, m.payload = nil, nil
	if m.err != nil {
		return false
	}
	if m.runs == nil {
		if m.next >= len(m.sorter.entries) {
			return false
		}
		m.key, m.payload = m.sorter.record(&m.sorter.entries[m.next])
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

// Err returns what ended the records early, or nil.
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

// merge merges runs in passes until few enough are left, and opens those.
func (s *Sorter) merge() (*Merge, error) {
	fan := int(min(mostRuns, max(2, s.memory/(16<<10))))
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
		if err := errors.Join(m.err, m.close(), w.close()); err != nil {
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

// open returns the merge of some runs.
func (s *Sorter) open(runs []spilled) (*Merge, error) {
	m := &Merge{sorter: s, runs: make([]*run, 0, len(runs))}
	buffer := int(min(256<<10, max(512, s.memory/int64(len(runs)+1))))
	for i := range runs {
		r, err := openRun(runs[i].path, buffer)
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

// A runWriter writes a run: records in order, each as the lengths of key and
// payload (unsigned varints) and their bytes. The first failure is kept.
type runWriter struct {
	spilled
	file *os.File
	out  *bufio.Writer
	head [2 * binary.MaxVarintLen64]byte
	err  error
}

func (s *Sorter) newRun() (*runWriter, error) {
	if s.folder == "" {
		folder, err := os.MkdirTemp(s.parent, "plinth-sort-")
		if err != nil {
			return nil, &SortError{"make a folder for sorted runs in", s.parent, err}
		}
		s.folder = folder
	}
	path := filepath.Join(s.folder, fmt.Sprintf("run-%06d", s.made))
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return nil, &SortError{"create sorted run", path, err}
	}
	s.made++
	w := &runWriter{spilled: spilled{path: path}, file: f}
	w.out = bufio.NewWriterSize(w, int(min(256<<10, max(512, s.memory/16))))
	return w, nil
}

// Write writes to the file and keeps the sum of what it holds.
func (w *runWriter) Write(b []byte) (int, error) {
	n, err := w.file.Write(b)
	w.bytes += int64(n)
	w.sum = crc32.Update(w.sum, castagnoli, b[:n])
	return n, err
}

func (w *runWriter) write(key, payload []byte) {
	if w.err != nil {
		return
	}
	n := binary.PutUvarint(w.head[:], uint64(len(key)))
	n += binary.PutUvarint(w.head[n:], uint64(len(payload)))
	for _, part := range [3][]byte{w.head[:n], key, payload} {
		if _, w.err = w.out.Write(part); w.err != nil {
			return
		}
	}
}

// close flushes and closes the file and returns the first failure.
func (w *runWriter) close() error {
	if w.err == nil {
		w.err = w.out.Flush()
	}
	if err := w.file.Close(); w.err == nil {
		w.err = err
	}
	if w.err != nil {
		return &SortError{"write sorted run", w.path, w.err}
	}
	return nil
}

// A run reads what a runWriter wrote, one record at a time.
type run struct {
	file         *os.File
	in           *bufio.Reader
	prefix       uint64
	key, payload []byte
	storage      []byte
}

func openRun(path string, buffer int) (*run, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, &SortError{"open sorted run", path, err}
	}
	return &run{file: f, in: bufio.NewReaderSize(f, buffer)}, nil
}

// next reads the next record and reports whether there is one.
func (r *run) next() (bool, error) {
	keyLen, err := binary.ReadUvarint(r.in)
	if errors.Is(err, io.EOF) {
		return false, nil
	}
	var dataLen uint64
	if err == nil {
		dataLen, err = binary.ReadUvarint(r.in)
	}
	if err == nil && (keyLen >= maxRecord || dataLen >= maxRecord) {
		err = errors.New("the file was changed by something else")
	}
	if err == nil {
		n := int(keyLen + dataLen)
		if n > cap(r.storage) {
			r.storage = make([]byte, n+n/2)
		}
		_, err = io.ReadFull(r.in, r.storage[:n])
		r.key, r.payload = r.storage[:keyLen], r.storage[keyLen:n]
		r.prefix = prefix(r.key)
	}
	if err != nil {
		if errors.Is(err, io.EOF) {
			err = io.ErrUnexpectedEOF
		}
		return false, &SortError{"read sorted run", r.file.Name(), err}
	}
	return true, nil
}

func (r *run) less(o *run) bool {
	if r.prefix != o.prefix {
		return r.prefix < o.prefix
	}
	return compareRecords(r.key, r.payload, o.key, o.payload) < 0
}

func (r *run) close() error {
	if err := r.file.Close(); err != nil {
		return &SortError{"close sorted run", r.file.Name(), err}
	}
	return nil
}
