package main

import (
	"context"
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
	beam.RegisterDoFn(byName)
}

// input is a register, by its number in the job, with its hash.
type input struct {
	Register int
	File     output.Input
}

// shard is the part of a register that one worker reads: a number of rows from a mark, or the
// whole file if it has no marks. The rows of all registers form one stock, in their order.
type shard struct {
	Register int
	Whole    bool
	Mark     inventory.Mark
}

// shardName identifies a shard.
func shardName(register int, offset int64) string { return fmt.Sprintf("%d:%d", register, offset) }

func byName(s shard) (string, shard) { return shardName(s.Register, s.Mark.Offset), s }

// splitFn reads a register once to find its shards, and once for its hash.
type splitFn struct{ Job job }

// ProcessElement splits one register.
func (f *splitFn) ProcessElement(ctx context.Context, register int, emit func(shard),
	hash func(input)) error {
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
			emit(shard{Register: register, Whole: true})
			return nil
		}
		if err := r.Next(&raw); err != nil {
			return atEnd(err)
		}
		emit(shard{Register: register, Mark: mark})
	}
}

// atEnd returns nil for the error at the end of a register.
func atEnd(err error) error {
	if errors.Is(err, io.EOF) {
		return nil
	}
	return err
}

// each calls see with the batches of the shard.
func (s *shard) each(ctx context.Context, run *pipeline.Run, j *job,
	see func(*inventory.Reader, *inventory.Batch) error) error {
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
