package motion

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"plinth/hazard"
)

// TestOscillatorUnderConstantAcceleration checks against the closed solution for a
// suddenly applied constant load (Chopra, Dynamics of Structures, 4.3):
//
//	u = -(a/w2)(1 - e^(-z w t)(cos wd t + z/sqrt(1 - z2) sin wd t))
//
// The recurrence is exact for it, so only rounding may differ.
func TestOscillatorUnderConstantAcceleration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		period := rapid.Float64Range(0.05, 5).Draw(t, "period")
		z := rapid.Float64Range(0, 0.9).Draw(t, "damping")
		step := rapid.Float64Range(0.001, 0.1).Draw(t, "step")
		o := NewOscillator(period, z, step)
		w := 2 * math.Pi / period
		wd := w * math.Sqrt(1-z*z)
		u, v := 0.0, 0.0
		for i := 1; i <= 100; i++ {
			u, v = o.Step(u, v, 2, 2)
			x := float64(i) * step
			want := -2 / (w * w) * (1 - math.Exp(-z*w*x)*(math.Cos(wd*x)+z/math.Sqrt(1-z*z)*math.Sin(wd*x)))
			if math.Abs(u-want) > 1e-9*2/(w*w) {
				t.Fatalf("step %d: %g, not %g", i, u, want)
			}
		}
	})
}

// TestOscillatorDoesNotMindTheStep checks that halving the step of a record that is linear
// between samples changes nothing: both are exact.
func TestOscillatorDoesNotMindTheStep(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	o, half := NewOscillator(0.7, 0.1, 0.02), NewOscillator(0.7, 0.1, 0.01)
	var u, v, uh, vh, p float64
	for range 500 {
		q := rng.NormFloat64()
		u, v = o.Step(u, v, p, q)
		uh, vh = half.Step(uh, vh, p, (p+q)/2)
		uh, vh = half.Step(uh, vh, (p+q)/2, q)
		assert.InDelta(t, u, uh, 1e-12)
		assert.InDelta(t, v, vh, 1e-11)
		p = q
	}
}

// noise returns a record of white noise.
func noise(n int, step float64) *Record {
	rng := rand.New(rand.NewPCG(3, 4))
	r := &Record{Step: step, Scale: 0.3, Accel: make([]float64, n)}
	for i := range r.Accel {
		r.Accel[i] = rng.NormFloat64()
	}
	return r
}

// TestSpectrumIsPeak checks the recurrence in displacement alone against the one with velocity,
// for orders of periods that leave groups of fewer than four, and for records with one sample
// or none.
func TestSpectrumIsPeak(t *testing.T) {
	r := noise(2000, 0.005)
	periods := []float64{0.2, 0.05, 1, 2, 3, 4, 5, 0.01, 0.011, 0.03, 0.031, 0.033, 0.035, 0.038, 0.3, 0.4}
	sa := make([]float64, len(periods))
	r.Spectrum(periods, 0.05, sa)
	for i, p := range periods {
		assert.InEpsilon(t, r.Sa(p, 0.05), sa[i], 1e-8, "%g s", p)
	}
	for n := range 2 {
		noise(n, 0.005).Spectrum(periods, 0.05, sa)
		assert.Zero(t, slices.Max(sa))
	}
}

// TestStiffOscillatorFollowsTheGround checks the limits of the absolute acceleration:
// that of the ground at a short period, none at a long one.
func TestStiffOscillatorFollowsTheGround(t *testing.T) {
	r := &Record{Step: 0.01, Scale: 1, Accel: make([]float64, 400)}
	for i := range r.Accel {
		r.Accel[i] = 0.2 * math.Sin(2*math.Pi*float64(i)/200)
	}
	_, a := r.Peak(0.01, 0.05)
	assert.InEpsilon(t, 0.2*hazard.Gravity, a, 1e-3)
	_, a = r.Peak(200, 0.05)
	assert.Less(t, a, 0.02*hazard.Gravity)
}

func TestPeakAllocatesNothing(t *testing.T) {
	r := noise(500, 0.005)
	sa := make([]float64, len(matchPeriods))
	assert.Zero(t, testing.AllocsPerRun(10, func() { r.Spectrum(matchPeriods, 0.05, sa) }))
}

func BenchmarkSpectrum(b *testing.B) {
	r := noise(2000, 0.005)
	sa := make([]float64, len(matchPeriods))
	b.ReportAllocs()
	for b.Loop() {
		r.Spectrum(matchPeriods, 0.05, sa)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(sa)*len(r.Accel)), "ns/step")
}
