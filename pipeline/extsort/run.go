package extsort

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"

	"github.com/klauspost/compress/s2"
)

// A runWriter writes a run, which is a file of records in order. A record is the lengths of its key
// and payload as unsigned varints, then their bytes. Records are gathered in blocks. The file holds
// the length of each compressed block (four bytes, little-endian) and the block, compressed with
// S2. A length of zero ends it. The first failure stays in err.
type runWriter struct {
	spilled
	file   *os.File
	out    *bufio.Writer
	size   int // of a block, about
	block  []byte
	packed []byte
	err    error
}

const runBuffer = 256 << 10 // bytes before the file

// runBlock returns the size in bytes, before compression, at which a block is written.
func (s *Sorter) runBlock() int { return int(min(64<<10, max(s.memory/64, 512))) }

// newRun creates the file of the next run, and the folder before the first.
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
	w := &runWriter{spilled: spilled{path: path}, file: f, size: s.runBlock()}
	w.out = bufio.NewWriterSize(w, int(min(runBuffer, max(512, s.memory/16))))
	return w, nil
}

// Write writes to the file and adds b to the checksum.
func (w *runWriter) Write(b []byte) (int, error) {
	n, err := w.file.Write(b)
	w.bytes += int64(n)
	w.sum = crc32.Update(w.sum, castagnoli, b[:n])
	return n, err
}

// write adds a record to the block and writes the block if it is full.
func (w *runWriter) write(key, payload []byte) {
	b := binary.AppendUvarint(w.block, uint64(len(key)))
	b = binary.AppendUvarint(b, uint64(len(payload)))
	w.block = append(append(b, key...), payload...)
	if len(w.block) >= w.size {
		w.pack()
	}
}

// pack compresses the block and writes it.
func (w *runWriter) pack() {
	if w.err != nil {
		w.block = w.block[:0]
		return
	}
	w.packed = s2.Encode(w.packed[:cap(w.packed)], w.block)
	w.length(len(w.packed))
	if w.err == nil {
		_, w.err = w.out.Write(w.packed)
	}
	w.block = w.block[:0]
}

// length writes the length of a compressed block.
func (w *runWriter) length(n int) {
	var b [4]byte
	binary.LittleEndian.PutUint32(b[:], uint32(n))
	_, w.err = w.out.Write(b[:])
}

// close writes the end of the file and closes it. If last is true the file is safely on disk
// afterwards. It returns the first failure.
func (w *runWriter) close(last bool) error {
	if len(w.block) > 0 {
		w.pack()
	}
	if w.err == nil {
		w.length(0)
	}
	if w.err == nil {
		w.err = w.out.Flush()
	}
	if w.err == nil && last {
		w.err, w.synced = w.file.Sync(), true
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
	next4        [4]byte // length of the next block, compressed
	packed       []byte
	block        []byte // storage for a block
	rest         []byte // of the block, still to be read
	prefix       uint64
	key, payload []byte // in the block
}

// errChanged says that no runWriter wrote what a file holds.
var errChanged = errors.New("the file was changed by something else")

// longestBlock is more bytes than any block has: those of its records before the last, and of a last
// one.
const longestBlock = 1<<20 + 2*maxRecord

// openRun opens a run to be read from its start.
func openRun(path string) (*run, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, &SortError{"open sorted run", path, err}
	}
	r := &run{file: f}
	if _, err := io.ReadFull(f, r.next4[:]); err != nil {
		return nil, errors.Join(r.fault(err), r.close())
	}
	return r, nil
}

// fault returns the error of a run that could not be read because of err.
func (r *run) fault(err error) error {
	if errors.Is(err, io.EOF) {
		err = io.ErrUnexpectedEOF
	}
	return &SortError{"read sorted run", r.file.Name(), err}
}

// next reads the next record and reports whether there is one.
func (r *run) next() (bool, error) {
	if len(r.rest) == 0 {
		if r.next4 == [4]byte{} {
			return false, nil
		}
		if err := r.unpack(); err != nil {
			return false, r.fault(err)
		}
	}
	keyLen, n := binary.Uvarint(r.rest)
	dataLen, m := binary.Uvarint(r.rest[max(n, 0):])
	if n <= 0 || m <= 0 || keyLen >= maxRecord || dataLen >= maxRecord || n+m+int(keyLen+dataLen) > len(r.rest) {
		return false, r.fault(errChanged)
	}
	record := r.rest[n+m:]
	r.key, r.payload, r.rest = record[:keyLen], record[keyLen:keyLen+dataLen], record[keyLen+dataLen:]
	r.prefix = prefix(r.key)
	return true, nil
}

// unpack reads the next block and, in the same call, the length of the block after it.
func (r *run) unpack() error {
	n := int(binary.LittleEndian.Uint32(r.next4[:]))
	if n > s2.MaxEncodedLen(longestBlock) {
		return errChanged
	}
	if n+4 > cap(r.packed) {
		r.packed = make([]byte, n+4+n/4)
	}
	b := r.packed[:n+4]
	if _, err := io.ReadFull(r.file, b); err != nil {
		return err
	}
	copy(r.next4[:], b[n:])
	if size, err := s2.DecodedLen(b[:n]); err != nil || size < 1 || size > longestBlock {
		return errChanged
	}
	var err error
	if r.block, err = s2.Decode(r.block[:cap(r.block)], b[:n]); err != nil {
		return fmt.Errorf("%w: %w", errChanged, err)
	}
	r.rest = r.block
	return nil
}

// less reports whether the record of r comes before that of o.
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
