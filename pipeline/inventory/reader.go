package inventory

import (
	"context"
	"errors"
	"io"
	"os"

	"github.com/paulmach/orb"

	"plinth/hazard"
	"plinth/pipeline/inventory/source"
)

// Options hold what the reader needs from other parts of the plan. With the zero value it checks no
// coverage and knows no price.
type Options struct {
	Coverage     orb.Bound           // of the hazard, longitude and latitude; the zero bound is not checked
	ValuePerArea float64             // replacement value a m2 of floor where the register gives none, plan currency; 0 for none
	ValueRatio   func(Use) float64   // of a use on it, nil for 1
	Ground       Ground              // of places whose register gives no site class, nil for none
	Soil         hazard.SoilStandard // whose letters the site classes are
	LatestYear   int                 // a building can be of; 0 is not checked
	BatchRows    int                 // rows of a batch, 0 for 1024

	Context context.Context // whose end ends any reading, at once and with its error; nil for none
}

// batchRows is the number of rows of a batch. They are enough that handing over a batch costs little,
// and few enough that all workers are busy on a register of some thousands.
const batchRows = 1024

// A Reader reads one register. One goroutine calls Next, which splits rows. Many may call Parse at once.
// One calls Admit with their batches in order.
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

// Next fills raw with the next rows. It returns io.EOF if there are none left, and a FileError if reading
// fails. Rows that were read before a failure are returned first. If the context has ended, its error
// is returned before all else.
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

// Expected estimates the number of rows of the register from the share of its bytes that were read. It
// returns 0 if that is not known. Only the goroutine of Next may call it.
func (r *Reader) Expected() int64 {
	f, _ := r.closer.(*os.File)
	return source.Expected(r.source, f, r.rows)
}

// Read calls Next, Parse and Admit, for a caller with one goroutine.
func (r *Reader) Read(raw *Raw, b *Batch) error {
	if err := r.Next(raw); err != nil {
		return err
	}
	r.Parse(raw, b)
	r.Admit(b)
	return nil
}

// Close closes the files of the reader and frees the memory that grew with the register. Its Report
// stays.
func (r *Reader) Close() error {
	r.intake.forget()
	err := source.Close(r.source)
	if r.closer != nil {
		err = errors.Join(err, r.closer.Close())
	}
	return err
}
