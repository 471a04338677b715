package inventory

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"

	"github.com/paulmach/orb"

	"plinth/hazard"
	"plinth/pipeline/inventory/fault"
	"plinth/pipeline/inventory/impute"
	"plinth/pipeline/inventory/outline"
	"plinth/pipeline/inventory/source"
	"plinth/pipeline/plan"
)

// Options are what the reader takes from the rest of the plan. The zero value
// checks no coverage and knows no price.
type Options struct {
	Coverage     orb.Bound           // of the hazard, longitude and latitude; the zero bound is not checked
	ValuePerArea float64             // replacement value a m2 of floor where the register gives none, plan currency; 0 for none
	Ground       Ground              // of places whose register gives no site class, nil for none
	Soil         hazard.SoilStandard // whose letters the site classes are
	LatestYear   int                 // a building can be of; 0 is not checked
	BatchRows    int                 // rows of a batch, 0 for 1024

	Context context.Context // whose end ends any reading, at once and with its error; nil for none
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
	source  source.Source
	opt     Options
	seq     int
	rows    int64 // given by Next
	end     error // why there is nothing more to read
	closer  io.Closer
	intake  intake
	survey  *survey // in the first of two readings
	stock   *stock  // in the second
}

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

// NewReader reads a register from in, which messages call name. An in that can
// seek lets the reader of CSV recover from a stray quotation mark, and read the
// register twice; a Parquet file must be an io.ReaderAt that can seek, a
// GeoPackage an os.File.
//
// The register is read twice, the first time here, if the plan fills gaps from
// the stock, or if rows have outlines and no column gives the gap between them.
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

// ended returns err, or the error of ctx where that has ended: it is the cause of every
// other.
func ended(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	return err
}

// needs returns the survey that must go before the reading, nil for none.
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

// Next fills raw with the next rows. It returns io.EOF when there are none left,
// or a FileError if reading fails; what was read before the failure comes first. The end
// of the context comes before both.
func (r *Reader) Next(raw *Raw) error {
	raw.reset()
	if r.end == nil {
		r.end = r.source.Next(&raw.split, r.opt.BatchRows)
		r.source.About().Unproject(&raw.split)
		if r.mapping.exploded >= 0 {
			r.mapping.explode(raw)
		}
		raw.Rows = raw.split.N
	}
	if err := r.opt.Context.Err(); err != nil {
		return err
	}
	if raw.Rows == 0 && r.end != nil {
		return r.end
	}
	raw.Seq = r.seq
	r.seq++
	r.rows += int64(raw.Rows)
	return nil
}

// Expected returns about how many rows the register has, from the share of its bytes
// that the rows so far have taken; 0 where that is not known. It belongs to the
// goroutine of Next.
func (r *Reader) Expected() int64 {
	f, _ := r.closer.(*os.File)
	return source.Expected(r.source, f, r.rows)
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

// Close closes what the reader opened and frees what grew with the register. Its
// Report stays.
func (r *Reader) Close() error {
	r.intake.forget()
	err := source.Close(r.source)
	if r.closer != nil {
		err = errors.Join(err, r.closer.Close())
	}
	return err
}

// cause takes the path off an error of the file system: the message has it.
func cause(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}
