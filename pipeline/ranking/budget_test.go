package ranking

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// portfolio returns n prospects of up to most offers with costs and gains drawn
// from whole numbers, so that ties and offers on no hull occur.
func portfolio(r *rand.Rand, n, most int) []Prospect {
	out := make([]Prospect, n)
	for i := range out {
		out[i].ID = fmt.Sprintf("B%04d", i)
		for j := range r.IntN(most + 1) {
			out[i].Offers = append(out[i].Offers, Offer{fmt.Sprint("m", j), float64(r.IntN(30)), float64(r.IntN(40) - 5), 0})
		}
	}
	return out
}

// bruteForce returns the largest gain of any programme within the budget.
func bruteForce(p []Prospect, budget float64) float64 {
	if len(p) == 0 {
		return 0
	}
	best := bruteForce(p[1:], budget)
	for _, o := range p[0].Offers {
		if o.Cost <= budget {
			best = max(best, o.Gain+bruteForce(p[1:], budget-o.Cost))
		}
	}
	return best
}

// holds checks what is true of every programme.
func holds(t *testing.T, p []Prospect, budget float64, got Programme) {
	t.Helper()
	var cost, gain float64
	for i, j := range got.Chosen {
		if j >= 0 {
			cost += p[i].Offers[j].Cost
			gain += p[i].Offers[j].Gain
		}
	}
	require.InDelta(t, cost, got.Spent, 1e-9)
	require.InDelta(t, gain, got.Gain, 1e-9)
	require.LessOrEqual(t, got.Spent, budget*(1+1e-12))
	require.LessOrEqual(t, got.Gain, got.Bound*(1+1e-12)+1e-12)
	require.GreaterOrEqual(t, got.Gap, 0.0)
}

func TestFundAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	gap := 0
	for range 1000 {
		p := portfolio(r, r.IntN(8), 4)
		budget := float64(r.IntN(120))
		got, err := Fund(p, budget)
		require.NoError(t, err)
		holds(t, p, budget, got)
		require.True(t, got.Exact)
		require.InDelta(t, bruteForce(p, budget), got.Gain, 1e-9, "%+v under %g", p, budget)
		if got.Gap > 1e-9 {
			gap++
		}
	}
	assert.Greater(t, gap, 200, "many cases are not solved by the relaxation alone")
}

func TestFundForgetsOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 100 {
		p := portfolio(r, 10, 4)
		want, err := Fund(p, 60)
		require.NoError(t, err)
		slug := map[string]string{}
		for i, j := range want.Chosen {
			if j >= 0 {
				slug[p[i].ID] = p[i].Offers[j].Measure
			}
		}
		r.Shuffle(len(p), func(i, j int) { p[i], p[j] = p[j], p[i] })
		for i := range p {
			r.Shuffle(len(p[i].Offers), func(a, b int) { o := p[i].Offers; o[a], o[b] = o[b], o[a] })
		}
		got, err := Fund(p, 60)
		require.NoError(t, err)
		for i, j := range got.Chosen {
			name := ""
			if j >= 0 {
				name = p[i].Offers[j].Measure
			}
			require.Equal(t, slug[p[i].ID], name)
		}
		require.Equal(t, want.Gain, got.Gain)
	}
}

func TestFundLimits(t *testing.T) {
	p := []Prospect{
		{ID: "A", Offers: []Offer{{Measure: "viscous", Cost: 10, Gain: 30}, {Measure: "slider", Cost: 40, Gain: 50}}},
		{ID: "B", Offers: []Offer{{Measure: "strengthen", Cost: 20, Gain: 30}, {Measure: "none", Cost: 0, Gain: 0}}},
	}
	for budget, want := range map[float64]float64{0: 0, 9: 0, 10: 30, 30: 60, 59: 60, 60: 80, math.Inf(1): 80} {
		got, err := Fund(p, budget)
		require.NoError(t, err)
		assert.Equal(t, want, got.Gain, "budget %g", budget)
	}
	// Half of B's step on top of A's first: 30 + 30/2.
	got, err := Fund(p, 20)
	require.NoError(t, err)
	assert.InDelta(t, 45, got.Bound, 1e-12)
	assert.InDelta(t, 15.0/45, got.Gap, 1e-12)

	free, err := Fund([]Prospect{{ID: "A", Offers: []Offer{{Measure: "tie", Cost: 0, Gain: 5}, {Measure: "slider", Cost: 10, Gain: 7}}}}, 0)
	require.NoError(t, err)
	assert.Equal(t, []int{0}, free.Chosen)
	empty, err := Fund(nil, 100)
	require.NoError(t, err)
	assert.Zero(t, empty.Gain)
	assert.True(t, empty.Exact)
}

func TestFundErrors(t *testing.T) {
	for want, offer := range map[string]Offer{"building A, slider: cost -1": {Measure: "slider", Cost: -1, Gain: 1},
		"cost NaN": {Measure: "slider", Cost: math.NaN(), Gain: 1}, "gain +Inf": {Measure: "slider", Cost: 1, Gain: math.Inf(1)}} {
		_, err := Fund([]Prospect{{ID: "A", Offers: []Offer{offer}}}, 10)
		assert.ErrorContains(t, err, want)
	}
	_, err := Fund([]Prospect{{ID: "A"}, {ID: "A"}}, 10)
	assert.ErrorContains(t, err, "listed twice")
	_, err = Fund(nil, math.NaN())
	assert.ErrorContains(t, err, "budget NaN")
}

func TestFundLargeSetIsNearItsBound(t *testing.T) {
	// 3,000 buildings: a single step is a small part of the budget, so the gap is.
	r := rand.New(rand.NewPCG(11, 12))
	p := portfolio(r, 3000, 5)
	for i := range p {
		for j := range p[i].Offers {
			p[i].Offers[j].Cost *= 1 + r.Float64()
			p[i].Offers[j].Gain *= 1 + r.Float64()
		}
	}
	got, err := Fund(p, 10_000)
	require.NoError(t, err)
	holds(t, p, 10_000, got)
	assert.Less(t, got.Gap, 0.001)
	assert.False(t, got.Exact)

	// With money for all, the bound is reached and nothing is left to prove.
	got, err = Fund(p, math.Inf(1))
	require.NoError(t, err)
	assert.True(t, got.Exact)
	assert.InDelta(t, 0, got.Gap, 1e-12)
}

func BenchmarkFund(b *testing.B) {
	for _, n := range []int{30, 3000} {
		p := portfolio(rand.New(rand.NewPCG(13, 14)), n, 5)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Fund(p, float64(4*n)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
