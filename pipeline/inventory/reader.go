package inventory

import (
	"errors"
	"io"
	"io/fs"
	"os"

	"github.com/paulmach/orb"

	"plinth/pipeline/plan"
)

// Options are what the reader takes from the rest of the plan. The zero value
// checks no coverage and knows no price.
type Options struct {
	Coverage     orb.Bound // of the hazard, longitude and latitude; the zero bound is not checked
	ValuePerArea float64   // replacement value a m2 of floor where the register gives none, plan currency; 0 for none
	BatchRows    int       // rows of a batch, 0 for 1024
}

// batchRows is a batch's rows: enough to make handing it over cheap, few enough
// to keep all workers busy on a register of some thousands.
const batchRows = 1024

// A Reader reads one register. Next splits rows and belongs to one goroutine;
// Parse may be called by many at once; Admit takes their batches in order.
//
//	for r.Next(&raw) == nil { // io.EOF at the end
//		r.Parse(&raw, &batch)
//		r.Admit(&batch)
//	}
//	report := r.Report()
type Reader struct {
	mapping *mapping
	source  source
	opt     Options
	seq     int
	end     error // why there is nothing more to read
	closer  io.Closer
	intake  intake
}

// Open opens the register of the plan. Close it when done. The error joins
// FileErrors: everything that keeps the register from being read.
func Open(inv *plan.Inventory, opt Options) (*Reader, error) {
	f, err := os.Open(inv.Path)
	if err != nil {
		e := &FileError{File: inv.Path, Key: "inventory.path", Rule: "the register cannot be opened", Remedy: "check the path; it is relative to the plan's folder", Err: cause(err)}
		if errors.Is(err, fs.ErrNotExist) {
			e.Rule, e.Err = "no such file", nil
		}
		return nil, e
	}
	if info, err := f.Stat(); err == nil && info.IsDir() {
		f.Close()
		return nil, &FileError{File: inv.Path, Key: "inventory.path", Rule: "this is a folder", Remedy: "give the register's file"}
	}
	r, err := NewReader(f, inv.Path, inv, opt)
	if err != nil {
		f.Close()
		return nil, err
	}
	r.closer = f
	return r, nil
}

// NewReader reads a register from in, which messages call name. An in that can
// seek lets the reader of CSV recover from a stray quotation mark; a Parquet file
// must be an io.ReaderAt that can seek, a GeoPackage an os.File.
func NewReader(in io.Reader, name string, inv *plan.Inventory, opt Options) (*Reader, error) {
	if opt.BatchRows <= 0 {
		opt.BatchRows = batchRows
	}
	r := &Reader{opt: opt}
	r.intake.init()
	src, err := openSource(in, name, inv)
	if err != nil {
		return nil, err
	}
	r.source = src
	if r.mapping, err = newMapping(inv, src); err != nil {
		return nil, errors.Join(err, closeSource(src))
	}
	src.pick(r.mapping.places())
	return r, nil
}

// Next fills raw with the next rows. It returns io.EOF when there are none left,
// or a FileError if reading fails; what was read before the failure comes first.
func (r *Reader) Next(raw *Raw) error {
	raw.reset()
	if r.end == nil {
		r.end = r.source.read(raw, r.opt.BatchRows)
	}
	if raw.Rows == 0 && r.end != nil {
		return r.end
	}
	raw.Seq = r.seq
	r.seq++
	return nil
}

// Read does Next, Parse and Admit with one goroutine.
func (r *Reader) Read(raw *Raw, b *Batch) error {
	if err := r.Next(raw); err != nil {
		return err
	}
	r.Parse(raw, b)
	r.Admit(b)
	return nil
}

// Close closes what the reader opened.
func (r *Reader) Close() error {
	err := closeSource(r.source)
	if r.closer != nil {
		err = errors.Join(err, r.closer.Close())
	}
	return err
}

// closeSource closes a source that holds something open.
func closeSource(s source) error {
	if c, ok := s.(io.Closer); ok {
		return c.Close()
	}
	return nil
}

// cause takes the path off an error of the file system: the message has it.
func cause(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}
