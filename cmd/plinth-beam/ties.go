package main

import (
	"encoding/binary"
	"math"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"

	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
)

func init() {
	beam.RegisterDoFn(&scoresFn{})
	beam.RegisterDoFn(&tiesFn{})
}

// A group of ties is led by its first building, so a range begins in the group the
// range before ended in, and groups cannot be found range by range. One worker walks
// along the scores and their scales, 16 bytes a building, one range in memory.

// scoresFn emits the scores of a range of the buildings in order.
type scoresFn struct {
	Job job
	b   output.Building
}

// ProcessElement sorts one range.
func (f *scoresFn) ProcessElement(part int, rows func(*row) bool, emit func(int, []byte)) error {
	if part/f.Job.Ranges != buildingsTable {
		return nil
	}
	var scores []byte
	err := sorted(f.Job.Memory, rows, func(_, r []byte) error {
		if _, err := output.Buildings.DecodeRow(r, &f.b); err != nil {
			return err
		}
		scores = binary.LittleEndian.AppendUint64(scores, math.Float64bits(f.b.Score))
		scores = binary.LittleEndian.AppendUint64(scores, math.Float64bits(scale(&f.b)))
		return nil
	})
	if err != nil {
		return err
	}
	emit(part, scores)
	return nil
}

// scale returns what the ties of a building are measured against.
func scale(b *output.Building) float64 { return b.ScoreResolution / ranking.Resolution }

// A tie is what is known of the ties before a range.
type tie struct {
	Part   int
	Before ranking.Ranker
}

// tiesFn walks along the ranges.
type tiesFn struct{ Job job }

// ProcessElement emits the state before each range.
func (f *tiesFn) ProcessElement(_ []byte, scores func(int) func(*[]byte) bool, emit func(tie)) error {
	var ranker ranking.Ranker
	for r := range f.Job.Ranges {
		part := buildingsTable*f.Job.Ranges + r
		emit(tie{part, ranker})
		var b []byte
		for next := scores(part); next(&b); {
			for ; len(b) >= 16; b = b[16:] {
				ranker.Next(math.Float64frombits(binary.LittleEndian.Uint64(b)), math.Float64frombits(binary.LittleEndian.Uint64(b[8:])))
			}
		}
	}
	return nil
}
