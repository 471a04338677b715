package assess

import (
	"context"
	"errors"
	"io"
	"sync"

	"plinth/pipeline/inventory"
)

// A parcel carries a batch of rows from stage to stage. The number of parcels is fixed and
// they are used again, so that memory does not grow with the register.
type parcel struct {
	raw   inventory.Raw
	batch inventory.Batch
}

// Flow takes every row of the register through four stages:
//
//	one splits -> workers parse -> one admits, in the order of the file -> workers visit
//
// Each worker of the last stage has a visitor of its own. The first error stops all stages
// and is returned, and so is the end of ctx.
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

// A Watch tells how a flow reports progress and halts. The zero value does neither.
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

// split fills parcels. After f.Every rows it waits until all parcels have come back and
// halts; it halts once more at the end if it halted before.
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

// halted waits until every parcel is free, calls f.Halt and reports whether to go on.
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

// admit admits batches in the order of the file. A batch that is early waits.
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

// A Visitor takes the rejects and buildings of one worker. Only one goroutine calls it. An
// error of Visit ends the flow.
type Visitor interface {
	Reject(*inventory.Reject)
	Visit(*inventory.Building) error
}
