package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"

	"plinth/pipeline/assess"
	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
)

func init() {
	beam.RegisterDoFn(&splitFn{})
	beam.RegisterDoFn(byName)
}

// An input is the hash of a register and its number in the job.
type input struct {
	Register int
	File     output.Input
}

// A stretch names the rows of a register that one worker reads: a number of rows from a mark on, or
// all rows of a file without marks. The rows of all registers, in order, are one stock.
type stretch struct {
	Register int
	Whole    bool
	Mark     inventory.Mark
}

// stretchName returns the name of a stretch. No other stretch has it.
func stretchName(register int, offset int64) string { return fmt.Sprintf("%d:%d", register, offset) }

func byName(s stretch) (string, stretch) { return stretchName(s.Register, s.Mark.Offset), s }

// splitFn splits a register into stretches. It reads the file once for them and once for its hash.
type splitFn struct{ Job job }

// ProcessElement emits the stretches of one register and its hash.
func (f *splitFn) ProcessElement(ctx context.Context, register int, emit func(stretch), hash func(input)) error {
	path := f.Job.Registers[register]
	in, err := output.HashInput(path, filepath.Base(path))
	if err != nil {
		return err
	}
	hash(input{register, in})
	run, err := openRun(f.Job.Plan)
	if err != nil {
		return err
	}
	r, err := run.OpenRegister(ctx, path, f.Job.Rows)
	if err != nil {
		return err
	}
	defer r.Close()
	var raw inventory.Raw
	for {
		mark, ok := r.Mark()
		if !ok {
			emit(stretch{Register: register, Whole: true})
			return nil
		}
		if err := r.Next(&raw); err != nil {
			return atEnd(err)
		}
		emit(stretch{Register: register, Mark: mark})
	}
}

// atEnd returns err, or nil for the end of a register.
func atEnd(err error) error {
	if errors.Is(err, io.EOF) {
		return nil
	}
	return err
}

// each calls see with every batch of the stretch.
func (s *stretch) each(ctx context.Context, run *assess.Study, j *job, see func(*inventory.Reader, *inventory.Batch) error) error {
	r, err := run.OpenRegister(ctx, j.Registers[s.Register], j.Rows)
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
