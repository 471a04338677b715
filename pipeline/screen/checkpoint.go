package screen

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"plinth/pipeline/disk"
	"plinth/pipeline/extsort"
	"plinth/pipeline/output"
)

// A checkpoint says how many rows of a register are done and which runs of the sorters hold
// the results. Another process can resume from it and write the same files.
type checkpoint struct {
	Program string         `json:"program"` // with the versions and the processor that the bytes depend on
	Plan    string         `json:"plan_sha256"`
	Inputs  []output.Input `json:"inputs"`
	Replace bool           `json:"replace"` // another run in the folder may be written over

	ParcelRows int   `json:"parcel_rows"` // parcels must be cut alike
	Parcels    int   `json:"parcels"`     // the first ones, all of whose rows are in the runs
	Rows       int64 `json:"rows"`        // of those parcels
	Out        int64 `json:"buildings_out"`
	Rejected   int64 `json:"rejected"`

	Runs [][]extsort.Run `json:"runs"` // of each sorter
}

// A checkpoint file is a line with the format and the SHA-256 of what follows, and
// the checkpoint as JSON.
const (
	checkpointMark    = "plinth checkpoint "
	checkpointHead    = checkpointMark + "2 %x\n" // 2: runs are of compressed blocks
	longestCheckpoint = 64 << 20                  // bytes; one of 10 million buildings has some 100 kB
)

// errCheckpoint is wrapped by every error of a checkpoint that cannot be read.
var errCheckpoint = errors.New("the checkpoint cannot be read")

// encode returns c as the bytes of a file.
func (c *checkpoint) encode() ([]byte, error) {
	body, err := json.MarshalIndent(c, "", " ")
	return append(fmt.Appendf(nil, checkpointHead, sha256.Sum256(body)), body...), err
}

// decodeCheckpoint is the inverse of encode. It refuses all other bytes.
func decodeCheckpoint(b []byte) (*checkpoint, error) {
	head, body, ok := bytes.Cut(b, []byte("\n"))
	want := fmt.Sprintf(checkpointHead, sha256.Sum256(body))
	if v, _, _ := strings.Cut(strings.TrimPrefix(string(head), checkpointMark), " "); v == "1" {
		return nil, fmt.Errorf("%w: it is of version 1, this program writes and reads 2", errCheckpoint)
	}
	if !ok || string(head)+"\n" != want {
		return nil, fmt.Errorf("%w: its checksum is not that of its content", errCheckpoint)
	}
	var c checkpoint
	d := json.NewDecoder(bytes.NewReader(body))
	d.DisallowUnknownFields()
	if err := d.Decode(&c); err != nil {
		return nil, fmt.Errorf("%w: %w", errCheckpoint, err)
	}
	if again, err := c.encode(); err != nil || !bytes.Equal(again, b) {
		return nil, fmt.Errorf("%w: it was not written by this program", errCheckpoint)
	}
	return &c, c.check()
}

// check returns an error if the counts contradict each other.
func (c *checkpoint) check() error {
	if c.ParcelRows < 1 || c.Parcels < 1 || c.Out < 0 || c.Rejected < 0 || c.Rows < 0 ||
		c.Rows != c.Out+c.Rejected {
		return fmt.Errorf("%w: %d parcels of %d rows, %d rows, %d out, %d rejected", errCheckpoint, c.Parcels,
			c.ParcelRows, c.Rows, c.Out, c.Rejected)
	}
	return nil
}

// readCheckpoint reads the checkpoint at path. The error is fs.ErrNotExist if there
// is none.
func readCheckpoint(path string) (*checkpoint, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, longestCheckpoint))
	if err != nil {
		return nil, err
	}
	return decodeCheckpoint(b)
}

// write replaces the checkpoint at path by c.
func (c *checkpoint) write(path string) error {
	b, err := c.encode()
	if err != nil {
		return err
	}
	err = disk.Write(path, 0o666, func(w io.Writer) error { _, err := w.Write(b); return err })
	if err != nil {
		return fmt.Errorf("checkpoint: %w", err)
	}
	return nil
}
