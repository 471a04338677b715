package inventory

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Medians and modes do not depend on the order of rows, on batches, or on how many
// goroutines parse.
func TestStockAnyOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	rows := strings.SplitAfter(strings.TrimSpace(string(register(400))), "\n")
	header, rows := rows[0], rows[1:]
	rows[len(rows)-1] += "\n"
	for i := range rows { // some gaps
		cells := strings.Split(rows[i], ",")
		for _, c := range []int{4, 5, 6, 7, 10, 11} {
			if r.IntN(3) == 0 {
				cells[c] = ""
			}
		}
		rows[i] = strings.Join(cells, ",")
	}
	inv := registerPlan()
	inv.Impute, inv.Group = "stock", "floors"
	var want map[string]string
	for try := range 3 {
		buildings, rejects, _ := read(t, open(t, header+strings.Join(rows, ""), inv, Options{BatchRows: 1 + 100*try}))
		require.Empty(t, rejects, "the stock fills all")
		got := make(map[string]string)
		assumed := 0
		for _, b := range buildings {
			b.Line = 0
			got[b.ID] = fmt.Sprintf("%+v", b)
			if b.way[System] == byUse || b.way[System] == byGroup {
				assumed++
			}
		}
		require.Greater(t, assumed, 50)
		if want == nil {
			want = got
		}
		require.Equal(t, len(want), len(got))
		for id := range want {
			require.Equal(t, want[id], got[id])
		}
		r.Shuffle(len(rows), func(i, j int) { rows[i], rows[j] = rows[j], rows[i] })
	}
}

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
