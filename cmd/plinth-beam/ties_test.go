package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
)

// falling returns the blocks of n scores from the largest down, by range.
func falling(n, ranges int) [][]byte {
	blocks := make([][]byte, ranges)
	for i := range n {
		r := i * ranges / n
		blocks[r] = appendScore(blocks[r], &output.Building{Score: float64(n - i), ScoreResolution: 2.5})
	}
	return blocks
}

func walk(t testing.TB, blocks [][]byte) (ties []tie) {
	f := &tiesFn{Job: job{Ranges: len(blocks)}}
	scores := func(r int) func(*[]byte) bool { return from(blocks[r : r+1]) }
	require.NoError(t, f.ProcessElement(nil, scores, func(one tie) { ties = append(ties, one) }))
	return ties
}

// A range begins in the group in which the range before it ended.
func TestTies(t *testing.T) {
	var whole ranking.Ranker
	var at []ranking.Ranker
	for i := range 100 {
		if i%25 == 0 {
			at = append(at, whole)
		}
		whole.Next(float64(100-i), 2.5/ranking.Resolution)
	}
	for i, one := range walk(t, falling(100, 4)) {
		assert.Equal(t, tie{i, at[i]}, one)
	}
	assert.Equal(t, 76., at[1].Leader, "the second range begins with 75, in the group of 76, 75 and 74")
}

// BenchmarkTies measures the pass of one worker through a million scores.
func BenchmarkTies(b *testing.B) {
	const n = 1_000_000
	blocks := falling(n, 8)
	for b.Loop() {
		walk(b, blocks)
	}
	b.ReportMetric(n*float64(b.N)/b.Elapsed().Seconds(), "buildings/s")
}
