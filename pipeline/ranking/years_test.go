package ranking

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// termed returns a small portfolio with musts, deadlines, groups and loads.
func termed(r *rand.Rand) ([]Prospect, Years) {
	list := portfolio(r, 1+r.IntN(5), 3)
	y := Years{CarryOver: r.IntN(2) == 0, PerGroup: r.IntN(2), Load: float64(r.IntN(3) * 4)}
	for range 1 + r.IntN(3) {
		y.Money = append(y.Money, float64(r.IntN(40)))
	}
	for i := range list {
		p := &list[i]
		p.Must = r.IntN(5) == 0 && len(p.Offers) > 0
		p.Latest = r.IntN(len(y.Money) + 1)
		p.Group = []string{"", "north", "south"}[r.IntN(3)]
		for j := range p.Offers {
			p.Offers[j].Load = float64(r.IntN(5))
		}
	}
	return list, y
}

// everyWay returns the largest gain over all offers and years, -Inf where no
// programme keeps the terms: the terms written out a second time, at the leaves.
func everyWay(p []Prospect, y Years) float64 {
	best := math.Inf(-1)
	offer, year := make([]int, len(p)), make([]int, len(p))
	var walk func(i int)
	walk = func(i int) {
		if i == len(p) {
			if gain, ok := keeps(p, y, offer, year); ok {
				best = max(best, gain)
			}
			return
		}
		offer[i] = -1
		walk(i + 1)
		for j := range p[i].Offers {
			for t := range y.Money {
				offer[i], year[i] = j, t
				walk(i + 1)
			}
		}
	}
	walk(0)
	return best
}

// keeps reports whether a programme keeps the terms, and its gain.
func keeps(p []Prospect, y Years, offer, year []int) (gain float64, ok bool) {
	n := len(y.Money)
	cost, load, group := make([]float64, n), make([]float64, n), map[string]int{}
	for i, j := range offer {
		if j < 0 {
			if p[i].Must {
				return 0, false
			}
			continue
		}
		t := year[i]
		if p[i].Latest > 0 && t+1 > p[i].Latest {
			return 0, false
		}
		gain += p[i].Offers[j].Gain
		cost[t] += p[i].Offers[j].Cost
		load[t] += p[i].Offers[j].Load
		if p[i].Group != "" {
			group[fmt.Sprint(p[i].Group, t)]++
		}
	}
	var spent, money float64
	for t := range n {
		spent, money = spent+cost[t], money+y.Money[t]
		if spent > money+1e-9 || !y.CarryOver && cost[t] > y.Money[t]+1e-9 || y.Load > 0 && load[t] > y.Load+1e-9 {
			return 0, false
		}
	}
	for _, k := range group {
		if y.PerGroup > 0 && k > y.PerGroup {
			return 0, false
		}
	}
	return gain, true
}

// Small sets are solved: the gain is the largest of all programmes that keep the
// terms, tried one by one.
func TestArrangeAgainstEveryWay(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	solved := 0
	for range 400 {
		list, y := termed(r)
		want := everyWay(list, y)
		got, err := Arrange(list, y)
		if err != nil {
			continue // what must be done found no place; said so below
		}
		require.True(t, got.Exact)
		require.InDelta(t, want, got.Gain, 1e-9)
		year := make([]int, len(list))
		for i := range year {
			year[i] = got.Year[i] - 1
			require.Equal(t, got.Chosen[i] >= 0, got.Year[i] > 0)
		}
		gain, ok := keeps(list, y, got.Chosen, year)
		require.True(t, ok)
		require.InDelta(t, gain, got.Gain, 1e-9)
		solved++
	}
	assert.Greater(t, solved, 250)
}

// What must be done is done though it gains nothing, by its deadline, one of a group
// a year: by hand.
func TestMustsDeadlinesGroups(t *testing.T) {
	list := []Prospect{
		{ID: "a", Offers: []Offer{{"x", 10, -1, 0}}, Must: true, Latest: 1, Group: "wing"},
		{ID: "b", Offers: []Offer{{"x", 10, 50, 0}}, Group: "wing"},
		{ID: "c", Offers: []Offer{{"x", 10, 40, 0}}},
	}
	got, err := Arrange(list, Years{Money: []float64{20, 10}, PerGroup: 1})
	require.NoError(t, err)
	assert.Equal(t, []int{1, 2, 1}, got.Year)
	assert.Equal(t, 89.0, got.Gain)
	assert.True(t, got.Exact)
	_, err = Arrange(list, Years{Money: []float64{5, 100}})
	assert.ErrorContains(t, err, "building a must be done and no year can take it")
	_, err = Fund(list, 5)
	assert.ErrorContains(t, err, "what must be done costs 10")
	_, err = Fund([]Prospect{{ID: "d", Must: true}}, 5)
	assert.ErrorContains(t, err, "no measure fits it")
}

// The frontier at its corners is what a budget of that much gains, and never falls.
func TestFrontier(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	list := portfolio(r, 40, 4)
	points, err := Frontier(list, 1000)
	require.NoError(t, err)
	for i, p := range points {
		got, err := Fund(list, p.Spent)
		require.NoError(t, err)
		assert.InDelta(t, p.Gain, got.Gain, 1e-9)
		assert.True(t, got.Exact)
		if i > 0 {
			assert.Greater(t, p.Spent, points[i-1].Spent)
			assert.Greater(t, p.Gain, points[i-1].Gain)
		}
	}
	few, err := Frontier(list, 5)
	require.NoError(t, err)
	assert.LessOrEqual(t, len(few), 5)
	assert.Equal(t, points[len(points)-1], few[len(few)-1])
}

// Ten thousand buildings, six offers each, five years: the bound says how little can
// have been missed.
func BenchmarkArrange10000(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	list := make([]Prospect, 10_000)
	for i := range list {
		list[i].ID = fmt.Sprintf("B%05d", i)
		for j := range 6 {
			cost := 1e5 * math.Exp(r.NormFloat64())
			list[i].Offers = append(list[i].Offers, Offer{fmt.Sprint("m", j), cost, cost * (2*r.Float64() - 0.3), r.Float64()})
		}
		list[i].Group = fmt.Sprint(i % 4000)
	}
	var got Schedule
	b.ReportAllocs()
	for b.Loop() {
		var err error
		if got, err = Arrange(list, Years{Money: []float64{4e7, 4e7, 4e7, 4e7, 4e7}, CarryOver: true, PerGroup: 1}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(100*got.Gap, "gap-%")
	if got.Gap > 0.001 {
		b.Fatalf("gap %g", got.Gap)
	}
}
