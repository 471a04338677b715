package main

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Borders cut a sample into equal parts, and records go to the range that holds their
// key.
func TestSpread(t *testing.T) {
	var keys [][]byte
	for i := range 100 {
		keys = append(keys, []byte{byte(99 - i)})
	}
	b := borders(keys, 4)
	assert.Equal(t, [][]byte{{25}, {50}, {75}}, b)
	s := &spread{4, map[int][][]byte{2: b}}
	for key, part := range map[byte]int{0: 8, 24: 8, 25: 9, 74: 10, 75: 11, 255: 11} {
		assert.Equal(t, part, s.part(2, []byte{key}), "key %d", key)
	}
	assert.Equal(t, 4, s.part(1, []byte{7}), "a lane that was not drawn from is one range")
	assert.Nil(t, borders(nil, 4))

	var many [][]byte
	for i := range 100 * perRange {
		many = append(many, fmt.Appendf(nil, "%06d", i))
	}
	f := &sampleFn{Ranges: 4}
	var whole, left, right draw
	for i, k := range many {
		one := draw{[][]byte{k}}
		whole = f.MergeAccumulators(whole, one)
		if i%3 == 0 {
			left = f.MergeAccumulators(left, one)
		} else {
			right = f.MergeAccumulators(right, one)
		}
	}
	assert.Less(t, len(whole.Keys), 4*4*perRange)
	assert.Equal(t, f.ExtractOutput(whole), f.ExtractOutput(f.MergeAccumulators(right, left)),
		"borders do not depend on how keys came")
	assert.Equal(t, f.ExtractOutput(whole), f.ExtractOutput(draw{many}))
}
