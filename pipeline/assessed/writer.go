package assessed

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"

	"github.com/klauspost/compress/zstd"

	"plinth/pipeline/assess"
	"plinth/pipeline/output"
)

// Folder is the folder of the digests within the output folder of a run.
const Folder = "assessed"

// digestsName is the file of the digests: a line that names the format, and Zstandard (RFC 8878)
// over records, each behind its length as a varint.
const (
	digestsName = "buildings.zst"
	formatLine  = "plinth assessed 1\n"
)

// A Writer writes the folder of a screening. It belongs to one goroutine.
type Writer struct {
	set  *output.Set
	file *output.File
	pack *zstd.Encoder
	out  *bufio.Writer
	rows int64
}

// Create begins the folder of a study. Digests of an earlier run are replaced by Commit; a file
// of the user is not, and the error says so before the first row.
func Create(study *assess.Study, s assess.Settings) (*Writer, error) {
	hash, err := output.HashPlan(study.Plan().Effective())
	if err != nil {
		return nil, err
	}
	s.Replace = true
	claim := study.Claim(hash, s)
	claim.Names = []string{digestsName}
	w := new(Writer)
	if w.set, err = study.OpenSet(Folder, s, claim); err != nil {
		return nil, err
	}
	if err := w.begin(); err != nil {
		return nil, errors.Join(err, w.Abort())
	}
	return w, nil
}

func (w *Writer) begin() (err error) {
	if w.file, err = w.set.Create(digestsName); err != nil {
		return err
	}
	if _, err = w.file.Write([]byte(formatLine)); err != nil {
		return err
	}
	w.pack, err = zstd.NewWriter(w.file, zstd.WithEncoderLevel(zstd.SpeedFastest), zstd.WithEncoderConcurrency(1),
		zstd.WithWindowSize(windowSize))
	w.out = bufio.NewWriterSize(w.pack, 64<<10)
	return err
}

// windowSize bounds the memory that packing and unpacking take.
const windowSize = 1 << 20

// Add adds the record of a digest.
func (w *Writer) Add(record []byte) error {
	w.rows++
	var length [binary.MaxVarintLen64]byte
	_, err := w.out.Write(binary.AppendUvarint(length[:0], uint64(len(record))))
	if err == nil {
		_, err = w.out.Write(record)
	}
	return err
}

// Commit puts the folder in place under the manifest of its run.
func (w *Writer) Commit(m *output.Manifest) error {
	if w.rows != m.Counts.Out {
		return errors.Join(fmt.Errorf("%w: %d digests of %d buildings", output.ErrUnbalanced, w.rows,
			m.Counts.Out), w.Abort())
	}
	if err := errors.Join(w.out.Flush(), w.pack.Close()); err != nil {
		return errors.Join(err, w.Abort())
	}
	w.file.Rows = w.rows
	return w.set.Commit(m)
}

// Abort removes what was written. After a Commit it does nothing.
func (w *Writer) Abort() error { return w.set.Abort() }
