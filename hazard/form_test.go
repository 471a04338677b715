package hazard

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestFourBranchRejectsWhatHasNoForm(t *testing.T) {
	var s Spectrum
	require.NoError(t, s.SetFourBranch(0.4, 1, 0.1, 0.5, 2, 4))
	before, _ := s.Nodes()
	assert.ErrorContains(t, s.SetFourBranch(0, 1, 0.1, 0.5, 2, 4), "must be positive")
	assert.ErrorContains(t, s.SetFourBranch(0.4, 1, 0.5, 0.1, 2, 4), "ascend")
	after, _ := s.Nodes()
	assert.Equal(t, before, after, "a rejected form leaves the spectrum alone")
}

func TestCopyFromSharesNothingThatChanges(t *testing.T) {
	var a, b Spectrum
	require.NoError(t, a.SetFourBranch(0.4, 1, 0.1, 0.5, 2, 4))
	b.CopyFrom(&a)
	require.NoError(t, a.SetFourBranch(0.8, 2, 0.2, 0.9, 3, 4))
	a.Scale(3)
	assert.InDelta(t, 0.5, b.Sa(1), 1e-12)
	assert.InDelta(t, 0.7, b.Sa(0.05), 1e-12)

	axis := NewAxis([]float64{0.2, 1})
	b.Set(axis, 0.3, []float64{0, -1})
	a.CopyFrom(&b)
	assert.Equal(t, b.Sa(0.4), a.Sa(0.4), "spectra on a shared axis copy too")
}

func TestFillingASpectrumAllocatesNothing(t *testing.T) {
	var s, c Spectrum
	require.NoError(t, TwoPeriod(&s, 1, 0.6, 8))
	c.CopyFrom(&s)
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		v, _ := ASCE7(ASCE716, ASCE7D, 1.02, 0.35)
		_ = TwoPeriod(&s, v.SDS, v.SD1, 8)
		_ = Eurocode8Type1.Elastic(&s, 'B', 0.25)
		c.CopyFrom(&s)
		c.Scale(1.1)
	}))
}

func BenchmarkASCE7Spectrum(b *testing.B) {
	var s Spectrum
	b.ReportAllocs()
	for range b.N {
		v, err := ASCE7(ASCE716, ASCE7D, 1.02, 0.35)
		if err != nil || TwoPeriod(&s, v.SDS, v.SD1, 8) != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSa(b *testing.B) {
	var s Spectrum
	if err := TwoPeriod(&s, 1, 0.6, 8); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	var sum float64
	for range b.N {
		sum += s.Sa(0.83)
	}
	_ = sum
}

// A code spectrum holds as far as its standard gives it: EN 1998-1 3.2.2.2 to 4 s,
// past TD = 2 s; ASCE 7-16 11.4.6 at any period, past TL too.
func TestCoversAsFarAsTheStandard(t *testing.T) {
	var s, c Spectrum
	require.NoError(t, Eurocode8Type1.Elastic(&s, 'B', 0.25))
	assert.True(t, s.Covers(2.5) && s.Covers(4) && !s.Covers(4.01))
	assert.InEpsilon(t, 2.5*1.2*0.25*0.5*2/(3.5*3.5), s.Sa(3.5), 1e-12)
	c.CopyFrom(&s)
	assert.True(t, c.Covers(4) && !c.Covers(4.01))
	require.NoError(t, NZS1170Site{Z: 0.3, R: 1, Class: 'C', FaultDistance: 100}.Fill(&s))
	assert.True(t, s.Covers(4.5) && !s.Covers(4.51), "NZS 1170.5 Table 3.1 ends at 4.5 s")
	require.NoError(t, TwoPeriod(&s, 1, 0.6, 8))
	assert.True(t, s.Covers(12))
	s.Set(NewAxis([]float64{0.2, 1}), 0.3, []float64{0, -1})
	assert.False(t, s.Covers(1.01), "a tabulated spectrum holds within its nodes")
}

func TestFallsFrom(t *testing.T) {
	var s Spectrum
	assert.Zero(t, s.FallsFrom())
	require.NoError(t, s.SetFourBranch(0.4, 1, 0.1, 0.5, 2, 4))
	assert.Equal(t, 0.1, s.FallsFrom())
	s.Set(NewAxis([]float64{0.1, 0.3, 1, 2, 3}), 0.3, []float64{0, 1, -1, 0.5, 0})
	assert.Equal(t, 2.0, s.FallsFrom(), "after the last hump")
}

// The least ordinate is that of the four-branch form at an end, in closed form, and that
// of a node where the spectrum has a hollow: no period between gives less.
func TestLeast(t *testing.T) {
	var s Spectrum
	require.NoError(t, s.SetFourBranch(0.4, 1, 0.1, 0.5, 2, 4))
	assert.InDelta(t, 0.7, s.Least(0.05, 0.6), 1e-12) // 0.4 + 0.6 0.05/0.1, below 0.5/0.6
	assert.InDelta(t, 0.25, s.Least(0.05, 2), 1e-12)  // 0.5/2
	s.SetNodes(0.4, 0.1, 0.3, Node{0.1, 0.8}, Node{0.3, 1}, Node{1.2, 0.2}, Node{2, 0.45}, Node{6, 0.05})
	assert.InDelta(t, 0.2, s.Least(0.1, 2.5), 1e-12)
	for _, ends := range [][2]float64{{0.01, 0.2}, {0.2, 1}, {0.5, 3}, {1, 9}} {
		least := s.Least(ends[0], ends[1])
		for i := range 1001 {
			x := ends[0] + (ends[1]-ends[0])*float64(i)/1000
			assert.LessOrEqual(t, least, s.Sa(x)*(1+1e-12), "%g s", x)
		}
	}
}

// A period that is not a number has no ordinate; every other, the ends of the range of
// numbers among them, has one.
func TestOrdinatesAtAnyPeriod(t *testing.T) {
	var s Spectrum
	require.NoError(t, s.SetFourBranch(0.1, 0.25, 0.15, 0.5, 2, 4))
	assert.True(t, math.IsNaN(s.Sa(math.NaN())))
	for _, period := range []float64{math.Inf(-1), -1, 0, 5e-324, 0.15, 2, 4, 1e308, math.Inf(1)} {
		assert.True(t, s.Sa(period) >= 0 && s.Sa(period) <= 0.25, "%g s: %g", period, s.Sa(period))
	}
}
