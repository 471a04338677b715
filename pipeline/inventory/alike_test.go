package inventory

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

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
