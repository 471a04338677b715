package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"

	"plinth/pipeline"
	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
)

func init() {
	beam.RegisterDoFn(&splitFn{})
	beam.RegisterDoFn(&idsFn{})
	beam.RegisterDoFn(byName)
	beam.RegisterDoFn(findTwins)
	beam.RegisterFunction(earliest)
}

// A registerFile is one of the registers; their rows are one stock, in this order.
type registerFile struct {
	Number int
	Path   string
}

// An input is a register with its hash.
type input struct {
	Number int
	File   output.Input
}

// A stretch is rows of a register that one worker reads: so many from a mark, or
// all of a file that has no marks.
type stretch struct {
	File  registerFile
	Whole bool
	Mark  inventory.Mark
}

// name tells stretches apart.
func (s *stretch) name() string { return fmt.Sprintf("%d:%d", s.File.Number, s.Mark.Offset) }

func byName(s stretch) (string, stretch) { return s.name(), s }

// splitFn reads a register once to find its stretches, and once for its hash.
type splitFn struct{ Job job }

// ProcessElement splits one register.
func (f *splitFn) ProcessElement(file registerFile, emit func(stretch), hash func(input)) error {
	in, err := output.HashInput(file.Path, filepath.Base(file.Path))
	if err != nil {
		return err
	}
	hash(input{file.Number, in})
	run, err := openRun(f.Job.Plan)
	if err != nil {
		return err
	}
	r, err := run.OpenRegister(file.Path, f.Job.Rows)
	if err != nil {
		return err
	}
	defer r.Close()
	var raw inventory.Raw
	for {
		mark, ok := r.Mark()
		if !ok {
			emit(stretch{File: file, Whole: true})
			return nil
		}
		if err := r.Next(&raw); err != nil {
			return atEnd(err)
		}
		emit(stretch{File: file, Mark: mark})
	}
}

// atEnd takes the end of a register for none.
func atEnd(err error) error {
	if errors.Is(err, io.EOF) {
		return nil
	}
	return err
}

// each shows the batches of the stretch to see.
func (s *stretch) each(run *pipeline.Run, rows int, see func(*inventory.Reader, *inventory.Batch) error) error {
	r, err := run.OpenRegister(s.File.Path, rows)
	if err != nil {
		return err
	}
	defer r.Close()
	if !s.Whole {
		if err := r.GoTo(s.Mark); err != nil {
			return err
		}
	}
	var raw inventory.Raw
	var batch inventory.Batch
	for {
		if err := r.Next(&raw); err != nil {
			return atEnd(err)
		}
		r.Parse(&raw, &batch)
		if err := see(r, &batch); err != nil || !s.Whole {
			return err
		}
	}
}

// A seat is where a building stands in the registers.
type seat struct {
	File    registerFile
	Stretch string
	Offset  int64 // of the stretch
	Nth     int   // building of the stretch
	Line    int
}

// before reports whether s stands before o.
func (s *seat) before(o *seat) bool {
	switch {
	case s.File.Number != o.File.Number:
		return s.File.Number < o.File.Number
	case s.Offset != o.Offset:
		return s.Offset < o.Offset
	}
	return s.Nth < o.Nth
}

// idsFn reads the ids of a stretch.
type idsFn struct{ Job job }

// ProcessElement emits where each id stands.
func (f *idsFn) ProcessElement(s stretch, emit func(string, seat)) error {
	run, err := openRun(f.Job.Plan)
	if err != nil {
		return err
	}
	nth := 0
	return s.each(run, f.Job.Rows, func(_ *inventory.Reader, b *inventory.Batch) error {
		for i := range b.Buildings {
			emit(b.Buildings[i].ID, seat{File: s.File, Stretch: s.name(), Offset: s.Mark.Offset, Nth: nth, Line: b.Buildings[i].Line})
			nth++
		}
		return nil
	})
}

// A twin is a building whose id was used before, and where.
type twin struct {
	Nth   int // building of its stretch
	First registerFile
	Line  int
}

// earliest returns the seat that stands before the other.
func earliest(a, b seat) seat {
	if b.before(&a) {
		return b
	}
	return a
}

// findTwins emits all buildings of one id but the first, under their stretch.
func findTwins(_ string, firsts, seats func(*seat) bool, emit func(string, twin)) {
	var first, s seat
	firsts(&first)
	for seats(&s) {
		if first.before(&s) {
			emit(s.Stretch, twin{s.Nth, first.File, first.Line})
		}
	}
}
