package assessed

import (
	"bufio"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"github.com/klauspost/compress/zstd"

	"plinth/pipeline/assess"
	"plinth/pipeline/output"
)

// A Stock is what a screening left of its buildings, held against the study at hand.
type Stock struct {
	Counts output.Counts // of the register
	study  *assess.Study
	path   string
}

// A NotCurrentError says why what stands in the output folder cannot be used for a plan.
type NotCurrentError struct {
	Dir, Problem, Remedy string
	Err                  error // the cause, may be nil
}

func (e *NotCurrentError) Error() string {
	return fmt.Sprintf("output folder %s %s: %s", e.Dir, e.Problem, e.Remedy)
}

// Unwrap returns the cause.
func (e *NotCurrentError) Unwrap() error { return e.Err }

// Open returns what the last screening of the study left. The error is a *NotCurrentError if
// there is none, or if the plan, an input, the program or the file has changed since.
func Open(study *assess.Study, version string) (*Stock, error) {
	dir := study.Plan().Output.Folder
	refuse := func(err error, format string, args ...any) error {
		return &NotCurrentError{dir, fmt.Sprintf(format, args...),
			"run `" + assess.Command("screen", study.Plan().File()) + "` first", err}
	}
	m, err := output.ReadManifest(filepath.Join(dir, Folder))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, refuse(err, "holds no assessed buildings of a screening")
	}
	if err != nil {
		return nil, refuse(err, "cannot be read: %v", err)
	}
	if m.Version != version {
		return nil, refuse(nil, "holds buildings assessed by version %s of the program, and this is %s", m.Version,
			version)
	}
	if key, err := differs(m.Plan, study.Plan().Effective()); err != nil || key != "" {
		return nil, refuse(err, "holds buildings assessed under another plan: %s differs", key)
	}
	inputs, err := study.Inputs()
	if err != nil {
		return nil, err
	}
	if !slices.Equal(inputs, m.Inputs) {
		return nil, refuse(nil, "holds buildings assessed from other inputs: %s",
			output.Differing(m.Inputs, inputs))
	}
	s := &Stock{Counts: m.Counts, study: study, path: filepath.Join(dir, Folder, digestsName)}
	is, err := output.HashInput(s.path, digestsName)
	if err != nil {
		return nil, refuse(err, "cannot be read: %v", err)
	}
	if !slices.ContainsFunc(m.Files, func(f output.Written) bool {
		return f.Name == is.Name && f.SHA256 == is.SHA256
	}) {
		return nil, refuse(nil, "holds assessed buildings that were changed since they were written (%s)",
			filepath.Join(Folder, digestsName))
	}
	return s, nil
}

// Each calls see with the digest of every building, in the order of rank. The digest is valid
// until see returns.
func (s *Stock) Each(ctx context.Context, see func(*assess.Digest) error) error {
	d, n := new(assess.Digest), len(s.study.Measures())
	return s.records(ctx, func(record []byte) error {
		if err := d.Read(record, n); err != nil {
			return fmt.Errorf("%s: %w", s.path, err)
		}
		return see(d)
	})
}

// Share calls the visitors of the given number of goroutines with the digest of every building.
func (s *Stock) Share(ctx context.Context, workers int, visitor func() Visitor) error {
	return Share(ctx, s.study, workers, s.records, visitor)
}

// records calls see with every record of the file. The record is valid until see returns.
func (s *Stock) records(ctx context.Context, see func(record []byte) error) error {
	f, err := os.Open(s.path)
	if err != nil {
		return err
	}
	defer f.Close()
	head := make([]byte, len(formatLine))
	if _, err := io.ReadFull(f, head); err != nil || string(head) != formatLine {
		return fmt.Errorf("%s: not the digests of a screening by this program", s.path)
	}
	unpack, err := zstd.NewReader(f, zstd.WithDecoderConcurrency(1), zstd.WithDecoderMaxWindow(windowSize))
	if err != nil {
		return err
	}
	defer unpack.Close()
	in := bufio.NewReaderSize(unpack, 64<<10)
	var record []byte
	for rows := 0; ; rows++ {
		n, err := binary.ReadUvarint(in)
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err == nil && n > longestRecord {
			err = errors.New("a record is longer than any has been written")
		}
		if err == nil {
			record = slices.Grow(record[:0], int(n))[:n]
			_, err = io.ReadFull(in, record)
		}
		if err == nil && rows%1024 == 0 {
			err = ctx.Err()
		}
		if err != nil {
			return fmt.Errorf("%s: %w", s.path, err)
		}
		if err := see(record); err != nil {
			return err
		}
	}
}

// longestRecord is more bytes than the sorter takes in a record.
const longestRecord = 16 << 20
