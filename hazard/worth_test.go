package hazard

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// shaken returns a spectrum with nothing but its shaking.
func shaken(s Shaking) *Spectrum { return &Spectrum{Shaking: s} }

// The dampings and periods at which properties are tried.
var (
	worthDampings = []float64{0.05, 0.06, 0.1, 0.2, 0.3, 0.5, 1, 2, 4}
	worthPeriods  = []float64{0.02, 0.1, 0.3, 1, 2, 4, 10}
)

func TestSteadyShakingOfCodesIsWorthWhatASCE7Says(t *testing.T) {
	// ASCE 7-16 Table 17.5-1: 1.5 at 20 %. The rest of its rows, to 50 %, and 1/eta of EN 1998-1
	// 3.2.2.2(3) follow from noise of the same length within 20 %.
	code := steady().section(codeCycles)
	assert.InEpsilon(t, 1.5, math.Exp(code.at(placeOf(0.20))), 0.005)
	for _, c := range [][2]float64{{0.10, 1.2}, {0.30, 1.7}, {0.40, 1.9}, {0.50, 2.0}} {
		assert.InEpsilon(t, c[1], math.Exp(code.at(placeOf(c[0]))), 0.2, "%g", c[0])
	}
	for _, b := range []float64{0.08, 0.10, 0.15, 0.20, 0.28} {
		assert.InEpsilon(t, ReductionEN1998(b), math.Exp(code.at(placeOf(b))), 0.07, "%g", b)
	}
}

func TestWorthIsDampingWhereNothingIsKnown(t *testing.T) {
	for _, b := range append([]float64{0, 0.005, 0.02}, worthDampings...) {
		for _, period := range worthPeriods {
			assert.Equal(t, b, shaken(Shaking{}).Worth(b, period))
			assert.InEpsilon(t, b+1, 1+shaken(Shaking{Duration: CodeDuration}).Worth(b, period), 1e-9)
		}
	}
}

func TestWorthAtFivePercentIsFivePercent(t *testing.T) {
	for _, s := range []Shaking{{Duration: 2}, {Duration: 80}, {PulsePeriod: 1, PulseChance: 1},
		{Duration: 9, PulsePeriod: 3, PulseChance: 0.4, PulseSpread: 0.55}} {
		for _, period := range worthPeriods {
			assert.Equal(t, 0.05, shaken(s).Worth(0.05, period))
			assert.InDelta(t, 0.05, shaken(s).Worth(0.05+1e-9, period), 1e-8, "no step above 5 %")
			assert.Equal(t, 0.03, shaken(s).Worth(0.03, period), "codes' own values hold below")
			for slug, b := range map[string]Reduction{"en": ReductionEN1998, "isolation": ReductionIsolation} {
				assert.InDelta(t, 1, b(shaken(s).Worth(0.05, period)), 1e-12, slug)
			}
		}
	}
}

func TestWorthRisesWithDampingAndDuration(t *testing.T) {
	for _, period := range worthPeriods {
		for d := 1.0; d < 400; d *= 1.03 {
			last := 0.0
			for _, b := range worthDampings {
				v := shaken(Shaking{Duration: d}).Worth(b, period)
				assert.GreaterOrEqual(t, v, last-1e-12)
				assert.GreaterOrEqual(t, shaken(Shaking{Duration: d * 1.03}).Worth(b, period), v*(1-1e-9),
					"%g s, damping %g, period %g s", d, b, period)
				last = v
			}
		}
		for _, tp := range []float64{0.3, 1, 4} {
			last := 0.0
			for b := 0.05; b < 4; b *= 1.01 {
				v := shaken(Shaking{PulsePeriod: tp, PulseChance: 0.7}).Worth(b, period)
				assert.GreaterOrEqual(t, v, last-1e-12, "pulse of %g s, damping %g, period %g s", tp, b, period)
				last = v
			}
		}
	}
}

func TestWorthHasNoSteps(t *testing.T) {
	for _, s := range []Shaking{{Duration: 6}, {Duration: 60}, {Duration: 10, PulsePeriod: 2, PulseChance: 0.5,
		PulseSpread: 0.55}} {
		for _, b := range worthDampings {
			last := shaken(s).Worth(b, 0.05)
			for period := 0.05; period < 8; period *= 1.01 {
				v := shaken(s).Worth(b, period)
				assert.InEpsilon(t, last, v, 0.05, "damping %g, period %g s", b, period)
				last = v
			}
		}
	}
}

func TestSteadyLimits(t *testing.T) {
	for _, b := range []float64{0.1, 0.2, 0.5, 0.9} {
		// An impulse: u = v/w exp(-b acos(b)/sqrt(1 - b2)) at its peak (Chopra, Dynamics of
		// Structures, 4.2 with the time of the peak), here by the closed form of the response.
		impulse := func(b float64) float64 {
			wd := math.Sqrt(1 - b*b)
			top := math.Atan2(wd, b) / wd
			return math.Exp(-b*top) * math.Sin(wd*top) / wd
		}
		brief := steadyPeak(0.05, 1e-4) - steadyPeak(b, 1e-4)
		assert.InDelta(t, math.Log(impulse(0.05)/impulse(b)), brief, 1e-3, "impulse, %g", b)
		// Without end the variance of the response goes with 1/b (Crandall and Mark 1963), and the
		// peak factors of both dampings meet.
		long := steadyPeak(0.05, 1e9) - steadyPeak(b, 1e9)
		assert.InDelta(t, 0.5*math.Log(b/0.05), long, 0.03, "steady, %g", b)
	}
	assert.InDelta(t, steadyPeak(1-1e-7, 2), steadyPeak(1+1e-7, 2), 1e-6, "no step at critical damping")
}

func TestPulsesInTheirLimits(t *testing.T) {
	of := func(b, ratio float64) float64 {
		c := pulse().section(math.Log(ratio))
		return math.Exp(c.at(placeOf(b)))
	}
	assert.InDelta(t, 1, of(0.3, 0.1), 0.01, "a stiff oscillator follows the ground")
	assert.Less(t, of(0.3, 10), 1.05, "the ground moves under a soft one")
	assert.Greater(t, of(0.2, 1), 1.5, "resonance")
	assert.InDelta(t, pulseShare(math.Log(0.88)), pulseShare(math.Log(0.8801)), 0.01)
	for x := 0.05; x < 20; x *= 1.1 {
		q := pulseShare(math.Log(x))
		assert.True(t, q > 0 && q < 1)
	}
}

func TestIsolatorsBesideAPulseGainLess(t *testing.T) {
	// Beyond twice the period of the pulse the response is half a cycle: isolators move further
	// than codes say.
	s := shaken(Shaking{PulsePeriod: 1, PulseChance: 1})
	for _, period := range []float64{2, 2.5, 3, 4} {
		assert.Less(t, s.Worth(0.2, period), 0.17)
	}
}

func TestMostWorthIsNotExceeded(t *testing.T) {
	for _, s := range []Shaking{{}, {Duration: 5}, {Duration: 70}, {PulsePeriod: 1, PulseChance: 1},
		{Duration: 30, PulsePeriod: 3, PulseChance: 0.6, PulseSpread: 0.55}} {
		for _, b := range worthDampings {
			for from := 0.1; from < 4; from *= 1.7 {
				for to := from; to < 10; to *= 1.3 {
					assert.LessOrEqual(t, shaken(s).Worth(b, math.Sqrt(from*to)),
						shaken(s).MostWorth(b, from, to)*(1+1e-9), "%+v, damping %g, %g to %g s", s, b, from, to)
				}
			}
		}
	}
}

func TestWorthOfNumbersThatCannotBe(t *testing.T) {
	s := shaken(Shaking{Duration: 30, PulsePeriod: 3, PulseChance: 0.6, PulseSpread: 0.55})
	for _, period := range []float64{math.NaN(), -1, 0} {
		assert.Equal(t, 0.2, s.Worth(0.2, period))
	}
	assert.True(t, math.IsNaN(s.Worth(math.NaN(), 1)))
	for _, x := range []float64{s.Worth(math.Inf(1), 1), s.Worth(0.2, math.Inf(1)), s.Worth(0.2, 1e-300),
		s.MostWorth(0.2, 0, math.Inf(1)), s.MostWorth(0.2, math.NaN(), 1)} {
		assert.True(t, x > 0 && x < 25, "%g", x)
	}
}

func TestWorthAllocatesNothing(t *testing.T) {
	s := shaken(Shaking{Duration: 20, PulsePeriod: 3, PulseChance: 0.5, PulseSpread: 0.55})
	s.Worth(0.2, 1)
	assert.Zero(t, testing.AllocsPerRun(100, func() { s.Worth(0.2, 1.3) }))
}

func BenchmarkWorth(b *testing.B) {
	for _, c := range []struct {
		name string
		Shaking
	}{{"unknown", Shaking{}}, {"duration", Shaking{Duration: 25}},
		{"pulse", Shaking{Duration: 25, PulsePeriod: 3, PulseChance: 0.5, PulseSpread: 0.55}}} {
		b.Run(c.name, func(b *testing.B) {
			s := shaken(c.Shaking)
			for i := range b.N {
				s.Worth(0.06+float64(i%10)*0.03, 1.3)
			}
		})
	}
}
