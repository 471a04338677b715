package impute

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Lower median and most frequent word, by hand.
func TestMiddle(t *testing.T) {
	for _, c := range []struct {
		counts map[int]int
		word   bool
		want   int
		ok     bool
	}{
		{map[int]int{3: 1, 4: 1, 9: 1, 10: 2}, false, 9, true},
		{map[int]int{1: 3, 2: 3}, false, 1, true}, // of six the third
		{map[int]int{1: 2, 2: 2}, false, 0, false},
		{map[int]int{7: 2, 3: 2, 5: 1}, true, 3, true},
		{map[int]int{7: 4, 3: 2}, true, 7, true},
	} {
		got, ok := middle(c.counts, c.word)
		assert.Equal(t, c.ok, ok, c.counts)
		assert.Equal(t, c.want, got, c.counts)
	}
}
