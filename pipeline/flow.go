package pipeline

import (
	"context"
	"errors"
	"io"
	"sync"

	"plinth/pipeline/inventory"
)

// A parcel is a batch of rows on its way. A fixed number of them goes round, so
// that memory is bounded however large the register.
type parcel struct {
	raw   inventory.Raw
	batch inventory.Batch
}

// flow takes every row of the register through the run:
//
//	one splits -> workers understand -> one admits, in the order of the file -> workers assess
//
// The first error stops all of it and is returned, as is the end of ctx. Each
// worker hands what it finds to a visitor of its own; done is told the rows of
// every parcel that has arrived.
func (r *Run) flow(ctx context.Context, reader *inventory.Reader, workers int, visitor func() visitor, done func(rows int)) error {
	if workers < 1 {
		panic("pipeline: a flow without workers")
	}
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	f := flow{ctx: ctx, stop: stop, reader: reader}
	parcels := 3*workers + 2
	free, split := make(chan *parcel, parcels), make(chan *parcel, parcels)
	parsed, admitted := make(chan *parcel, parcels), make(chan *parcel, parcels)
	for range parcels {
		free <- new(parcel)
	}
	var all sync.WaitGroup
	stage := func(n int, next chan *parcel, run func()) {
		var these sync.WaitGroup
		for range n {
			these.Add(1)
			go func() { defer these.Done(); run() }()
		}
		all.Add(1)
		go func() { // when the whole stage is done, the next one sees the end
			defer all.Done()
			these.Wait()
			if next != nil {
				close(next)
			}
		}()
	}
	stage(1, split, func() { f.split(free, split) })
	stage(workers, parsed, func() { f.parse(split, parsed) })
	stage(1, admitted, func() { f.admit(parsed, admitted) })
	stage(workers, nil, func() { f.visit(admitted, free, visitor(), done) })
	all.Wait()
	return context.Cause(ctx)
}

type flow struct {
	ctx    context.Context
	stop   context.CancelCauseFunc
	reader *inventory.Reader
}

// pass hands p on and reports whether the run goes on.
func (f *flow) pass(p *parcel, to chan<- *parcel) bool {
	select {
	case to <- p:
		return true
	case <-f.ctx.Done():
		return false
	}
}

// take returns the next parcel, or nil at the end or when the run stops.
func (f *flow) take(from <-chan *parcel) *parcel {
	select {
	case p := <-from:
		return p
	case <-f.ctx.Done():
		return nil
	}
}

func (f *flow) split(free <-chan *parcel, to chan<- *parcel) {
	for {
		p := f.take(free)
		if p == nil {
			return
		}
		err := f.reader.Next(&p.raw)
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			f.stop(err)
			return
		}
		if !f.pass(p, to) {
			return
		}
	}
}

func (f *flow) parse(from <-chan *parcel, to chan<- *parcel) {
	for p := f.take(from); p != nil; p = f.take(from) {
		f.reader.Parse(&p.raw, &p.batch)
		if !f.pass(p, to) {
			return
		}
	}
}

// admit lets batches in by the order of the file: a batch that is early waits.
func (f *flow) admit(from <-chan *parcel, to chan<- *parcel) {
	waiting := make(map[int]*parcel)
	next := 0
	for p := f.take(from); p != nil; p = f.take(from) {
		waiting[p.batch.Seq] = p
		for q := waiting[next]; q != nil; q = waiting[next] {
			delete(waiting, next)
			next++
			f.reader.Admit(&q.batch)
			if !f.pass(q, to) {
				return
			}
		}
	}
}

func (f *flow) visit(from <-chan *parcel, free chan<- *parcel, v visitor, done func(int)) {
	for p := f.take(from); p != nil; p = f.take(from) {
		for i := range p.batch.Rejects {
			v.reject(&p.batch.Rejects[i])
		}
		for i := range p.batch.Buildings {
			if err := v.visit(&p.batch.Buildings[i]); err != nil {
				f.stop(err)
				return
			}
		}
		done(p.batch.Rows)
		free <- p // never blocks: there is room for every parcel
	}
}

// A visitor is what one worker does with the rows of a register. It is used by
// one goroutine. An error of visit ends the run.
type visitor interface {
	reject(*inventory.Reject)
	visit(*inventory.Building) error
}
