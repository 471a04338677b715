package inventory

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"

	"plinth/pipeline/inventory/fault"
	"plinth/pipeline/inventory/impute"
	"plinth/pipeline/inventory/outline"
	"plinth/pipeline/inventory/source"
	"plinth/pipeline/plan"
)

// Open opens the register of the plan. Close it when done. The error joins
// FileErrors: everything that keeps the register from being read.
func Open(inv *plan.Inventory, opt Options) (*Reader, error) {
	f, err := os.Open(inv.Path)
	if err != nil {
		e := &fault.FileError{File: inv.Path, Key: "inventory.path", Rule: "the register cannot be opened",
			Remedy: "check the path; it is relative to the plan's folder", Err: cause(err)}
		if errors.Is(err, fs.ErrNotExist) {
			e.Rule, e.Err = "no such file", nil
		}
		return nil, e
	}
	if info, err := f.Stat(); err == nil && info.IsDir() {
		f.Close()
		return nil, &fault.FileError{File: inv.Path, Key: "inventory.path", Rule: "this is a folder",
			Remedy: "give the register's file"}
	}
	r, err := NewReader(f, inv.Path, inv, opt)
	if err != nil {
		f.Close()
		return nil, err
	}
	r.closer = f
	return r, nil
}

// NewReader reads a register from in, which messages call name. From an input that can seek, CSV can be
// read twice and after a stray quotation mark. A Parquet file must be an io.ReaderAt that can seek, and
// a GeoPackage an os.File.
//
// The register is read twice, and for the first time here, in two cases: if the plan fills missing
// values from like buildings, and if rows have outlines while no column gives the gap between them.
func NewReader(in io.Reader, name string, inv *plan.Inventory, opt Options) (*Reader, error) {
	if opt.Context == nil {
		opt.Context = context.Background()
	}
	if opt.BatchRows <= 0 {
		opt.BatchRows = batchRows
	}
	r, err := newReader(in, name, inv, opt)
	if err != nil {
		return nil, err
	}
	s := r.needs(inv)
	if s == nil {
		return r, nil
	}
	seek, ok := in.(io.Seeker)
	if !ok && s.counts == nil {
		r.source.About().Note("gaps between outlines were not measured: " +
			"that needs a file that can be read twice")
		return r, nil
	}
	if !ok {
		return nil, errors.Join(&fault.FileError{File: name, Key: "inventory.impute",
			Rule:   "a stream cannot be read twice",
			Remedy: "save it first, or write impute = \"defaults\""}, r.Close())
	}
	found, err := r.lookOver(s)
	if err = errors.Join(err, r.Close()); err != nil {
		return nil, err
	}
	if _, err := seek.Seek(0, io.SeekStart); err != nil {
		return nil, r.source.About().Broken(err)
	}
	if r, err = newReader(in, name, inv, opt); err != nil {
		return nil, err
	}
	r.stock = found
	return r, nil
}

func newReader(in io.Reader, name string, inv *plan.Inventory, opt Options) (*Reader, error) {
	r := &Reader{opt: opt}
	r.intake.init()
	src, err := source.Open(opt.Context, in, name, inv)
	if err != nil {
		return nil, ended(opt.Context, err)
	}
	r.source = src
	if r.mapping, err = newMapping(inv, src); err != nil {
		return nil, ended(opt.Context, errors.Join(err, source.Close(src)))
	}
	src.Pick(r.mapping.places())
	return r, nil
}

// ended returns the error of ctx if ctx has ended, since that causes every other error. Else it returns
// err.
func ended(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	return err
}

// needs returns the survey that must precede the reading, or nil.
func (r *Reader) needs(inv *plan.Inventory) *survey {
	s := &survey{}
	if inv.Impute == "stock" {
		s.counts = impute.NewSurvey()
	}
	if r.mapping.drawn && r.mapping.of[Gap] < 0 {
		s.rings = &outline.Rings{}
	}
	if s.counts == nil && s.rings == nil {
		return nil
	}
	return s
}

// lookOver reads the register for a survey.
func (r *Reader) lookOver(s *survey) (*stock, error) {
	r.survey = s
	var raw Raw
	var b Batch
	err := r.Next(&raw)
	for ; err == nil; err = r.Next(&raw) {
		if s.rings != nil {
			s.outlines(&raw.split, r.mapping.swap)
		}
		if s.counts != nil {
			r.Parse(&raw, &b)
		}
	}
	if err != io.EOF && s.counts == nil && r.opt.Context.Err() == nil {
		err = io.EOF // the reading proper will meet it, behind the rows before it
	}
	if err != io.EOF {
		return nil, err
	}
	return s.stock(r.mapping)
}

// cause removes the path from an error of the file system. The message has it already.
func cause(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}
