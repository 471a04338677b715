package ranking

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"
)

func TestKendallTauPublished(t *testing.T) {
	// Example of the SciPy reference for scipy.stats.kendalltau, with ties; from memory.
	assert.InDelta(t, -0.47140452079103173, KendallTau([]float64{12, 2, 1, 12, 2}, []float64{1, 4, 7, 1, 0}), 1e-15)
	assert.Equal(t, 1.0, KendallTau([]float64{1, 2, 3}, []float64{10, 20, 30}))
	assert.Equal(t, -1.0, KendallTau([]float64{1, 2, 3}, []float64{3, 2, 1}))
	for _, c := range [][2][]float64{{{}, {}}, {{1}, {1}}, {{1, 2}, {3, 3}}, {{1, math.NaN()}, {1, 2}}} {
		assert.True(t, math.IsNaN(KendallTau(c[0], c[1])), c)
	}
	assert.Panics(t, func() { KendallTau([]float64{1}, nil) })
}

// byDefinition is tau-b counted pair by pair.
func byDefinition(x, y []float64) float64 {
	var alike, unlike, onlyX, onlyY float64
	for i := range x {
		for j := range i {
			switch a, b := x[i]-x[j], y[i]-y[j]; {
			case a == 0 && b == 0:
			case a == 0:
				onlyX++
			case b == 0:
				onlyY++
			case a*b > 0:
				alike++
			default:
				unlike++
			}
		}
	}
	return (alike - unlike) / math.Sqrt((alike+unlike+onlyX)*(alike+unlike+onlyY))
}

func TestKendallTauByDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 60).Draw(t, "n")
		few := rapid.SliceOfN(rapid.Map(rapid.IntRange(-5, 5), func(i int) float64 { return float64(i) }), n, n)
		x, y := few.Draw(t, "x"), few.Draw(t, "y")
		want, got := byDefinition(x, y), KendallTau(x, y)
		if math.IsNaN(want) != math.IsNaN(got) || math.Abs(want-got) > 1e-12 {
			t.Fatalf("want %v, got %v", want, got)
		}
	})
}

func TestKendallTauAgainstGonum(t *testing.T) {
	// gonum counts pair by pair and takes no ties; equal up to rounding.
	r := rand.New(rand.NewPCG(3, 4))
	x, y := make([]float64, 500), make([]float64, 500)
	for i := range x {
		x[i] = r.NormFloat64()
		y[i] = x[i] + r.NormFloat64()
	}
	assert.InDelta(t, stat.Kendall(x, y, nil), KendallTau(x, y), 1e-12)
}

func TestTopOverlap(t *testing.T) {
	x := []float64{5, 4, 3, 2, 1}
	assert.Equal(t, 1.0, TopOverlap(x, x, 3))
	assert.Equal(t, 0.5, TopOverlap(x, []float64{5, 1, 4, 3, 2}, 2))
	assert.Equal(t, 0.0, TopOverlap(x, []float64{1, 2, 3, 4, 5}, 2))
	assert.Equal(t, 1.0, TopOverlap(x, []float64{1, 2, 3, 4, 5}, 9), "all of them")
	assert.True(t, math.IsNaN(TopOverlap(nil, nil, 3)))
	assert.True(t, math.IsNaN(TopOverlap(x, x, 0)))
}

func TestNaiveOrders(t *testing.T) {
	assert.Greater(t, OldestFirst(1905), OldestFirst(1960))
	assert.Less(t, OldestFirst(0), OldestFirst(2020))
	assert.Equal(t, 60.0, HazardTimesOccupants(0.3, 200))
	assert.Less(t, HazardTimesOccupants(math.NaN(), 200), 0.0)
	assert.Equal(t, -1.0, KendallTau([]float64{OldestFirst(1900), OldestFirst(0)}, []float64{1, 2}))
}

func BenchmarkKendallTau(b *testing.B) {
	r := rand.New(rand.NewPCG(5, 6))
	const n = 100_000
	x, y := make([]float64, n), make([]float64, n)
	for i := range x {
		x[i], y[i] = r.NormFloat64(), math.Floor(100*r.Float64())
	}
	b.ReportAllocs()
	for b.Loop() {
		KendallTau(x, y)
	}
}

func BenchmarkChoose(b *testing.B) {
	options := []Option{{"none", 0, 0, false}, {"slider", 12, 40, false}, {"viscous", 15, 20, false},
		{"lead-rubber", 13, 14, false}, {"yielding", 3, 4, false}, {"tuned-mass", 1, 1, true}, {"strengthen", 11, 30, false}}
	var c Choice
	b.ReportAllocs()
	for b.Loop() {
		Choose(options, &c)
	}
}
