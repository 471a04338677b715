package main

import (
	"fmt"
	"testing"

	"github.com/klauspost/compress/s2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is gathered comes back from blocks, each part sorted by its keys, whichever
// bound brought the blocks to an end.
func TestBlocks(t *testing.T) {
	for _, parts := range []int{1, 1000} {
		blocks := make(map[int][][]byte)
		g := newGatherer(parts, func(part int, b []byte) { blocks[part] = append(blocks[part], b) })
		row := make([]byte, 2000)
		const records = 50_000 // more than allBlocks
		for i := range records {
			g.add(i%parts, fmt.Appendf(nil, "%06d", (i*7919)%records), row)
			require.Less(t, g.held, allBlocks)
		}
		g.flushAll()
		assert.Zero(t, g.held)
		seen := 0
		for _, list := range blocks {
			for _, b := range list {
				n, err := s2.DecodedLen(b)
				require.NoError(t, err)
				require.Less(t, n, fullBlock+2*len(row))
			}
			last := ""
			require.NoError(t, sorted(1<<20, from(list), func(key, got []byte) error {
				require.Less(t, last, string(key))
				require.Equal(t, row, got)
				last = string(key)
				seen++
				return nil
			}))
		}
		assert.Equal(t, records, seen)
	}
}

// A damaged block is an error and no panic.
func TestDamagedBlocks(t *testing.T) {
	var block []byte
	g := newGatherer(1, func(_ int, b []byte) { block = b })
	g.add(0, []byte("key"), []byte("row"))
	whole := g.blocks[0]
	g.flushAll()
	ignore := func(_, _ []byte) error { return nil }
	for n := range len(block) - 1 {
		assert.ErrorIs(t, sorted(1<<20, from([][]byte{block[:n+1]}), ignore), errDamagedBlock, "%d bytes", n)
	}
	for n := range len(whole) - 1 {
		assert.ErrorIs(t, eachRecord(whole[:n+1], ignore), errDamagedBlock, "%d bytes", n)
	}
}

// from returns elements as a runner gives them to a function.
func from[E any](elements []E) func(*E) bool {
	return func(e *E) bool {
		if len(elements) == 0 {
			return false
		}
		*e, elements = elements[0], elements[1:]
		return true
	}
}

// A step that a runner does again emits the same bytes.
func TestAgain(t *testing.T) {
	j, err := newJob(town(t, 60), "")
	require.NoError(t, err)
	j.Ranges, j.Rows = 3, 100
	type block struct {
		part int
		b    []byte
	}
	assess := func() (blocks []block) {
		var lanes []int
		var drawn []draw
		put := func(part int, b []byte) { blocks = append(blocks, block{part, b}) }
		scout, sample := &scoutFn{Job: *j}, &sampleFn{j.Ranges}
		require.NoError(t, scout.ProcessElement(stretch{}, put, func(lane int, d draw) {
			lanes, drawn = append(lanes, lane), append(drawn, sample.ExtractOutput(d))
		}))
		lane, d := from(lanes), from(drawn)
		borders := func(l *int, b *draw) bool { return lane(l) && d(b) }
		f := &assessFn{Job: *j}
		require.NoError(t, f.ProcessElement("", from([]stretch{{}}), from([]twin(nil)), borders, put, put, func(n tally) {
			assert.Greater(t, n.Out, int64(30))
			assert.Equal(t, n.In, n.Out+n.Rejected)
		}))
		return blocks
	}
	first := assess()
	assert.Greater(t, len(first), 20)
	assert.Equal(t, first, assess())
}
