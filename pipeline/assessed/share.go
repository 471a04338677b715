package assessed

import (
	"context"

	"golang.org/x/sync/errgroup"

	"plinth/pipeline/assess"
)

// A Visitor takes the digests of one worker. Only one goroutine calls it, and a digest is valid
// until it returns. An error ends the work of all.
type Visitor func(*assess.Digest) error

// Records calls see with records of digests, one after the other. A record is valid until see
// returns.
type Records func(ctx context.Context, see func(record []byte) error) error

// shared is the number of records that a worker takes at once.
const shared = 16

// A parcel holds records, one behind the other.
type parcel struct {
	bytes []byte
	ends  []int
}

// Share reads records in one goroutine and hands them to the visitors of as many others as there
// are workers. The number of parcels is fixed and they are used again, so that memory does not
// grow with the stock.
func Share(ctx context.Context, study *assess.Study, workers int, from Records,
	visitor func() Visitor) error {
	all, ctx := errgroup.WithContext(ctx)
	free, full := make(chan *parcel, 2*workers+1), make(chan *parcel, 2*workers+1)
	for range cap(free) {
		free <- new(parcel)
	}
	all.Go(func() error {
		defer close(full)
		return fill(ctx, from, free, full)
	})
	for range workers {
		all.Go(func() error {
			visit, d := visitor(), new(assess.Digest)
			for p := range full {
				if err := p.show(ctx, d, len(study.Measures()), visit); err != nil {
					return err
				}
				free <- p // never blocks: there is room for every parcel
			}
			return nil
		})
	}
	return all.Wait()
}

// fill puts records into parcels.
func fill(ctx context.Context, from Records, free <-chan *parcel, full chan<- *parcel) error {
	var p *parcel
	err := from(ctx, func(record []byte) error {
		if p == nil {
			select {
			case p = <-free:
				p.bytes, p.ends = p.bytes[:0], p.ends[:0]
			case <-ctx.Done():
				return context.Cause(ctx)
			}
		}
		p.bytes = append(p.bytes, record...)
		if p.ends = append(p.ends, len(p.bytes)); len(p.ends) == shared {
			full <- p // never blocks: there is room for every parcel
			p = nil
		}
		return nil
	})
	if err == nil && p != nil {
		full <- p
	}
	return err
}

// show shows a visitor what is in the parcel.
func (p *parcel) show(ctx context.Context, d *assess.Digest, measures int, visit Visitor) error {
	for i, end := range p.ends {
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		if err := d.Read(p.bytes[p.start(i):end], measures); err != nil {
			return err
		}
		if err := visit(d); err != nil {
			return err
		}
	}
	return nil
}

// start returns where record i begins.
func (p *parcel) start(i int) int {
	if i == 0 {
		return 0
	}
	return p.ends[i-1]
}
