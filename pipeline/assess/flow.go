package assess

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

// Flow takes every row of the register through the run:
//
//	one splits -> workers understand -> one admits, in the order of the file -> workers assess
//
// The first error stops all of it and is returned, as is the end of ctx. Each
// worker hands what it finds to a visitor of its own.
func (study *Study) Flow(ctx context.Context, reader *inventory.Reader, workers int, visitor func() Visitor,
	w Watch) error {
	if workers < 1 {
		panic("pipeline: a flow without workers")
	}
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	f := flow{ctx: ctx, stop: stop, reader: reader, Watch: w}
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
	stage(workers, nil, func() { f.visit(admitted, free, visitor()) })
	all.Wait()
	return context.Cause(ctx)
}

// A Watch is what a run wants of a flow on its way. The zero value wants nothing.
type Watch struct {
	Done   func(rows int)                      // told the rows of every parcel that has arrived
	Expect func(rows int64)                    // told about how many there will be, 0 for not known
	Skip   int                                 // parcels at the start that need not be visited
	Every  int64                               // rows between two halts, 0 for none
	Halt   func(parcels int, rows int64) error // all rows so far were visited, none is on its way
}

type flow struct {
	Watch
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

// split fills parcels. When so many rows have gone, it waits until every parcel has
// come back, which is a halt; at the end there is one more if there were any.
func (f *flow) split(free chan *parcel, to chan<- *parcel) {
	var rows, since int64 // all, and since the last halt
	halts := f.Skip > 0
	for n := 0; ; n++ {
		if f.Every > 0 && since >= f.Every {
			if !f.halted(free, n, rows) {
				return
			}
			halts, since = true, 0
		}
		p := f.take(free)
		if p == nil {
			return
		}
		err := f.reader.Next(&p.raw)
		if err == nil {
			if rows += int64(p.raw.Rows); f.Expect != nil {
				f.Expect(f.reader.Expected())
			}
			if n >= f.Skip {
				since += int64(p.raw.Rows)
			}
			if !f.pass(p, to) {
				return
			}
			continue
		}
		free <- p // never blocks: there is room for every parcel
		if !errors.Is(err, io.EOF) {
			f.stop(err)
		} else if halts && f.Every > 0 && since > 0 {
			f.halted(free, n, rows)
		}
		return
	}
}

// halted waits until every parcel is free, calls halt and reports whether the run
// goes on.
func (f *flow) halted(free chan *parcel, parcels int, rows int64) bool {
	all := make([]*parcel, cap(free))
	for i := range all {
		if all[i] = f.take(free); all[i] == nil {
			return false
		}
	}
	if err := f.Halt(parcels, rows); err != nil {
		f.stop(err)
		return false
	}
	for _, p := range all {
		free <- p
	}
	return true
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

func (f *flow) visit(from <-chan *parcel, free chan<- *parcel, v Visitor) {
	for p := f.take(from); p != nil; p = f.take(from) {
		if p.batch.Seq >= f.Skip {
			if err := p.show(v); err != nil {
				f.stop(err)
				return
			}
		}
		if f.Done != nil {
			f.Done(p.batch.Rows)
		}
		free <- p // never blocks: there is room for every parcel
	}
}

// show shows a visitor what is in the parcel.
func (p *parcel) show(v Visitor) error {
	for i := range p.batch.Rejects {
		v.Reject(&p.batch.Rejects[i])
	}
	for i := range p.batch.Buildings {
		if err := v.Visit(&p.batch.Buildings[i]); err != nil {
			return err
		}
	}
	return nil
}

// A Visitor is what one worker does with the rows of a register. It is used by
// one goroutine. An error of visit ends the run.
type Visitor interface {
	Reject(*inventory.Reject)
	Visit(*inventory.Building) error
}
