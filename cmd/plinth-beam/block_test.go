package main

import (
	"fmt"
	"testing"

	"github.com/klauspost/compress/s2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Gathered records come back from blocks, each part sorted by its keys, whichever limit ended
// the blocks.
func TestBlocks(t *testing.T) {
	const room = 5 << 20
	for _, parts := range []int{1, 1000} {
		blocks := make(map[int][][]byte)
		g := newGatherer(parts, room, func(part int, b []byte) { blocks[part] = append(blocks[part], b) })
		row := make([]byte, 2000)
		const records = 5000
		for i := range records {
			g.add(i%parts, fmt.Appendf(nil, "%06d", (i*7919)%records), row)
			require.Less(t, g.held, int64(room))
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

// A damaged block gives an error, not a panic.
func TestDamagedBlocks(t *testing.T) {
	var block []byte
	g := newGatherer(1, 1<<20, func(_ int, b []byte) { block = b })
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
