package archetypes

import (
	"math"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestFiveStoreyShearBuilding repeats Chopra, Dynamics of Structures, example
// 13.8.2: five floors of 45 t on storeys of 5482 kN/m. Periods are printed to four
// digits, modal masses to four decimals.
func TestFiveStoreyShearBuilding(t *testing.T) {
	m, k := make([]float64, 5), make([]float64, 5)
	for i := range m {
		m[i], k[i] = 45e3, 5482e3
	}
	period, gamma, shape, _, err := chainModes(m, k)
	require.NoError(t, err)
	for j, want := range []float64{2.000, 0.6852, 0.4346, 0.3383, 0.2967} {
		// Half a unit of the last printed digit; the first, 2.0000, to 1e-4.
		assert.InDelta(t, want, period[j], 1e-4, "T%d", j+1)
	}
	for j, want := range []float64{0.8795, 0.0872, 0.0242, 0.0075, 0.0016} {
		var l float64
		for i, phi := range shape[j] {
			l += m[i] * phi
		}
		assert.InDelta(t, want, gamma[j]*l/(5*45e3), 1e-4, "modal mass %d", j+1)
	}
}

// TestTwoStoreyFrame repeats Chopra, example 10.4: m = 2, 1 and k = 2, 1 give
// w = sqrt(k/2m) and sqrt(2k/m).
func TestTwoStoreyFrame(t *testing.T) {
	modes, err := ChainModes([]float64{2, 1}, []float64{2, 1})
	require.NoError(t, err)
	require.Equal(t, 2, modes.Count)
	assert.InDelta(t, math.Sqrt(0.5), 2*math.Pi/modes.Period[0], 1e-12)
	assert.InDelta(t, math.Sqrt2, 2*math.Pi/modes.Period[1], 1e-12)
	assert.InDelta(t, 0.5, modes.Shape[0][0], 1e-12)
	assert.InDelta(t, -1, modes.Shape[1][0], 1e-12)
}

// TestThreeStoreyPrototype compares with prototype values, not published, to their
// six printed digits.
func TestThreeStoreyPrototype(t *testing.T) {
	modes, err := ChainModes([]float64{1, 1, 1}, []float64{1200, 1000, 700})
	require.NoError(t, err)
	assert.InDeltaSlice(t, []float64{0.437577, 0.172318, 0.113505}, modes.Period[:], 1e-6)
	assert.InDeltaSlice(t, []float64{1.26892, -0.32421, 0.0552889}, modes.Gamma[:], 1e-5)
	assert.InDeltaSlice(t, []float64{0.353821, 0.705455, 1}, modes.Shape[0], 1e-6)
	assert.InDeltaSlice(t, []float64{-1.03317, -0.899338, 1}, modes.Shape[1], 1e-5)
	assert.InDeltaSlice(t, []float64{3.90792, -3.37755, 1}, modes.Shape[2], 1e-5)
}

// TestChainModesProperties checks the defining properties of modes on any chain: orthogonality
// to mass and stiffness, and the expansion of a unit vector.
func TestChainModesProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "n")
		m := rapid.SliceOfN(rapid.Float64Range(0.5, 2), n, n).Draw(t, "m")
		k := rapid.SliceOfN(rapid.Float64Range(100, 1000), n, n).Draw(t, "k")
		period, gamma, shape, rest, err := chainModes(m, k)
		require.NoError(t, err)
		for a := range n {
			if a > 0 && period[a] > period[a-1] {
				t.Fatalf("periods out of order: %v", period)
			}
			for b := range n {
				var mm, aa, bb float64
				for i := range n {
					mm += m[i] * shape[a][i] * shape[b][i]
					aa += m[i] * shape[a][i] * shape[a][i]
					bb += m[i] * shape[b][i] * shape[b][i]
				}
				if a != b { // relative to the modal masses: rounding of the eigenvectors alone
					assert.InDelta(t, 0, mm/math.Sqrt(aa*bb), 1e-11)
				}
			}
		}
		for i := range n {
			// sum over all modes of Gamma phi is 1 at every floor. A roof that hardly
			// moves in a mode makes its phi large, which costs digits.
			var one, size, beyond float64
			for j := range n {
				x := gamma[j] * shape[j][i]
				one += x
				size = max(size, math.Abs(x))
				if j >= MaxModes {
					beyond += x * x
				}
			}
			assert.InDelta(t, 1, one, 1e-8*max(1, size))
			assert.InDelta(t, math.Sqrt(beyond), rest[i], 1e-8*max(1, size))
		}
	})
}

func TestChainModesRefusesWhatIsNoChain(t *testing.T) {
	for _, c := range [][2][]float64{
		{{}, {}}, {{1}, {1, 2}}, {{0}, {1}}, {{1}, {-1}}, {{math.NaN()}, {1}}, {{1}, {math.Inf(1)}},
		{make([]float64, MaxStoreys+1), make([]float64, MaxStoreys+1)},
	} {
		_, err := ChainModes(c[0], c[1])
		assert.Error(t, err, "%v", c)
	}
}

// TestChainsConcurrently is for the race detector: first calls at the same time.
func TestChainsConcurrently(t *testing.T) {
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for n := 1; n <= 20; n++ {
				assert.Equal(t, 1.0, chainOf(n, SetBack).modes.Shape[0][n-1])
			}
		})
	}
	wg.Wait()
}
