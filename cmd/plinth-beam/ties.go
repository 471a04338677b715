package main

import (
	"encoding/binary"
	"math"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"

	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
)

func init() {
	beam.RegisterDoFn(&tiesFn{})
}

// The first building of a group of ties decides which others belong to it. A range therefore begins
// in the group in which the range before ended, and groups cannot be found range by range. One
// worker walks along the scores and their scales: 16 bytes a building, one range in memory.

// appendScore appends the score of a building and its scale, which ties are found by.
func appendScore(b []byte, r *output.Building) []byte {
	b = binary.LittleEndian.AppendUint64(b, math.Float64bits(r.Score))
	return binary.LittleEndian.AppendUint64(b, math.Float64bits(scale(r)))
}

// scale returns the magnitude that the ties of a building are measured against.
func scale(b *output.Building) float64 { return b.ScoreResolution / ranking.Resolution }

// A tie is the state of the ties before a range.
type tie struct {
	Range  int
	Before ranking.Ranker
}

// tiesFn finds the groups of ties along the ranges of the plan's order.
type tiesFn struct{ Job job }

// ProcessElement emits the state before each range.
func (f *tiesFn) ProcessElement(_ []byte, scores func(int) func(*[]byte) bool, emit func(tie)) error {
	var ranker ranking.Ranker
	for r := range f.Job.Ranges {
		emit(tie{r, ranker})
		var b []byte
		for next := scores(r); next(&b); {
			for ; len(b) >= 16; b = b[16:] {
				ranker.Next(math.Float64frombits(binary.LittleEndian.Uint64(b)), math.Float64frombits(binary.LittleEndian.Uint64(b[8:])))
			}
		}
	}
	return nil
}
