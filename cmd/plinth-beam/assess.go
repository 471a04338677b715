package main

import (
	"context"
	"path/filepath"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"

	"plinth/pipeline/assess"
	"plinth/pipeline/inventory"
	"plinth/pipeline/screen"
)

func init() {
	beam.RegisterDoFn(&assessFn{})
}

// assessFn assesses the buildings of a stretch.
type assessFn struct {
	Job    job
	spread *spread
}

// ProcessElement emits blocks of table rows and of order keys. Each block goes under the number of
// its part.
func (f *assessFn) ProcessElement(ctx context.Context, _ string, stretches func(*stretch) bool, twins func(*twin) bool, borders func(*int, *draw) bool,
	rows, keys func(int, []byte), done func(tally)) error {
	run, err := openRun(f.Job.Plan)
	if err != nil {
		return err
	}
	if f.spread == nil {
		f.spread = newSpread(f.Job.Ranges, borders)
	}
	again := make(map[int]twin)
	for t := (twin{}); twins(&t); {
		again[t.Nth] = t
	}
	blocks := newGatherer(laneCount(run)*f.Job.Ranges, f.Job.Memory, func(part int, block []byte) {
		if part < tables*f.Job.Ranges {
			rows(part, block)
		} else {
			keys(part, block)
		}
	})
	for s := (stretch{}); stretches(&s); {
		n, err := f.assess(ctx, run, &s, again, blocks)
		if err != nil {
			return err
		}
		done(n)
	}
	blocks.flushAll()
	return nil
}

func (f *assessFn) assess(ctx context.Context, run *assess.Study, s *stretch, again map[int]twin, blocks *gatherer) (tally, error) {
	n := tally{Parts: make([]int64, len(blocks.blocks))}
	screener := newScreener(run, &f.Job, s.Register, func(lane int, key, row []byte) {
		part := f.spread.part(lane, key)
		blocks.add(part, key, row)
		n.Parts[part]++
	})
	nth := 0
	err := s.each(ctx, run, &f.Job, func(r *inventory.Reader, b *inventory.Batch) error {
		n.In += int64(b.Rows)
		for i := range b.Rejects {
			if err := screener.Reject(&b.Rejects[i]); err != nil {
				return err
			}
		}
		for i := range b.Buildings {
			t, twice := again[nth]
			nth++
			if err := f.take(screener, r, s, &b.Buildings[i], t, twice); err != nil {
				return err
			}
		}
		return nil
	})
	n.Out, n.Rejected = screener.Counts()
	return n, err
}

// take assesses a building. It rejects one whose id was used before.
func (f *assessFn) take(to *screen.Screener, r *inventory.Reader, s *stretch, b *inventory.Building, t twin, twice bool) error {
	if !twice {
		return to.Building(b)
	}
	file := ""
	if t.Register != s.Register {
		file = filepath.Base(f.Job.Registers[t.Register])
	}
	reject := r.Duplicate(b, t.Line, file)
	return to.Reject(&reject)
}
