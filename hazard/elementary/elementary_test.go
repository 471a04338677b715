package elementary

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// spread calls f with n numbers from the least to the most, in steps of equal ratio.
func spread(least, most float64, n int, f func(x float64)) {
	for i := range n {
		u := (float64(i) + 0.37) / float64(n)
		f(math.Pow(least, 1-u) * math.Pow(most, u))
	}
}

// The tolerances are those stated in the package; math is within 1 ulp, 2.2e-16.
func TestAgainstMath(t *testing.T) {
	const n = 200_000
	var worst [3]float64
	near := func(i int, got, want, scale float64) {
		worst[i] = max(worst[i], math.Abs(got-want)/scale)
	}
	spread(1e-300, 1e300, n, func(x float64) {
		near(0, Log(x), math.Log(x),
			max(math.Abs(math.Log(x)), 0.1))
	})
	spread(1e-17, 0.003, n, func(d float64) { // near 1, where the logarithm has its root
		near(0, Log(1+d), math.Log(1+d), math.Abs(math.Log(1+d))+1e-300)
		near(0, Log(1-d), math.Log(1-d), math.Abs(math.Log(1-d))+1e-300)
	})
	spread(1e-12, 700, n, func(x float64) {
		near(1, Exp(x), math.Exp(x), math.Exp(x))
		near(1, Exp(-x), math.Exp(-x), math.Exp(-x))
	})
	spread(1e-6, 1e6, n, func(x float64) {
		for _, e := range []float64{-2, -0.7, -0.034, 0.2, 0.5, 1, 2.5} {
			near(2, Pow(x, e), math.Pow(x, e), math.Pow(x, e))
		}
	})
	assert.Less(t, worst[0], 2e-15, "ln")
	assert.Less(t, worst[1], 2e-15, "exp")
	assert.Less(t, worst[2], 1e-14, "power")
	t.Logf("%.2g", worst)
}

// Beyond the tables the functions of package math are used, and there is no jump at the borders
// of the intervals.
func TestBorders(t *testing.T) {
	for _, x := range []float64{0, -1, math.Inf(1), math.Inf(-1), math.NaN(), 5e-324, math.MaxFloat64,
		0x1p-1022, 1, 2, 0.5, 11. / 16, 11. / 8} {
		same(t, math.Log(x), Log(x), "ln %g", x)
		for _, e := range []float64{-1, 0, 0.5, 2, 300, math.NaN(), math.Inf(1)} {
			same(t, math.Pow(x, e), Pow(x, e), "%g^%g", x, e)
		}
	}
	for _, x := range []float64{0, math.Copysign(0, -1), 700, -700, 701, -760, math.Inf(1), math.Inf(-1),
		math.NaN()} {
		same(t, math.Exp(x), Exp(x), "exp %g", x)
	}
	for i := range uint64(tableSize) {
		x := math.Float64frombits(lowest + i<<shift)
		for _, x := range []float64{math.Nextafter(x, 0), x, math.Nextafter(x, 2)} {
			assert.InDelta(t, math.Log(x), Log(x), 5e-16, "ln %g", x)
		}
	}
}

// A power law goes through its points, and Gutenberg and Richter's numbers 1000, 100, 10
// of earthquakes above magnitude 4, 5, 6 (amplitudes in steps of ten) fall by ten a step.
func TestPowerLaw(t *testing.T) {
	assert.InEpsilon(t, 3.0, PowerLaw(2, 2, 5, 3, 7), 1e-14)
	assert.InEpsilon(t, 7.0, PowerLaw(5, 2, 5, 3, 7), 1e-14)
	assert.InEpsilon(t, 100.0, PowerLaw(1e5, 1e4, 1e6, 1000, 10), 1e-13)
}

func same(t *testing.T, want, got float64, format string, args ...any) {
	t.Helper()
	if want == got || math.IsNaN(want) && math.IsNaN(got) {
		return
	}
	assert.InEpsilon(t, want, got, 1e-13, append([]any{format}, args...)...)
}

var sink float64

func BenchmarkExp(b *testing.B)     { chain(b, func(x float64) float64 { return Exp(-x) }) }
func BenchmarkMathExp(b *testing.B) { chain(b, func(x float64) float64 { return math.Exp(-x) }) }
func BenchmarkLog(b *testing.B)     { chain(b, func(x float64) float64 { return 2 + Log(x) }) }
func BenchmarkMathLog(b *testing.B) { chain(b, func(x float64) float64 { return 2 + math.Log(x) }) }
func BenchmarkPow(b *testing.B)     { chain(b, func(x float64) float64 { return 1 + Pow(x, 0.7) }) }
func BenchmarkMathPow(b *testing.B) {
	chain(b, func(x float64) float64 { return 1 + math.Pow(x, 0.7) })
}

// chain passes each result on as the next argument, as in a search for a root.
func chain(b *testing.B, f func(float64) float64) {
	x := 0.3
	for b.Loop() {
		x = f(x)
	}
	sink = x
}
