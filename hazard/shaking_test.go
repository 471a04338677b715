package hazard

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestSignificantDuration(t *testing.T) {
	// Bommer, Stafford and Alarcon 2009, Table 2, by hand: M 7, 15 km, 360 m/s gives
	// ln D = -2.2393 + 6.5576 + 0.2015 x 2.7218 - 0.3478 x 5.8861 = 2.8196.
	assert.InEpsilon(t, 16.77, SignificantDuration(7, 15, 360), 1e-3)
	assert.InEpsilon(t, 16.77, CodeDuration, 1e-3)
	// Recorded, crustal: Northridge 1994, magnitude 6.7, 17 km, 9.0 and 10.4 s, 41 km, 19.8 s; Ridgecrest
	// 2019, 7.1, 34 km, 11.0 and 11.3 s; Coalinga 1983, 6.7, 38 km, 9.3 and 13.3 s; Monte Cristo 2020,
	// 6.5, 103 km, 52.5 s (distances from the epicentre). Their mean of ln is within one standard
	// deviation, 0.46, of the relation.
	sum, n := 0.0, 0.0
	for _, c := range []struct{ m, km, s float64 }{{6.7, 17, 9.0}, {6.7, 17, 10.4}, {6.7, 41, 19.8},
		{7.1, 34, 11.0}, {7.1, 34, 11.3}, {6.7, 38, 9.3}, {6.7, 38, 13.3}, {6.5, 103, 52.5}} {
		sum, n = sum+math.Log(c.s/SignificantDuration(c.m, c.km, 400)), n+1
	}
	assert.Less(t, math.Abs(sum/n), 0.46)
}

func TestSignificantDurationRises(t *testing.T) {
	for km := 0.0; km < 150; km += 5 {
		for m := 4.0; m < 9; m += 0.1 {
			d := SignificantDuration(m, km, 400)
			assert.GreaterOrEqual(t, SignificantDuration(m+0.1, km, 400), d)
			assert.GreaterOrEqual(t, SignificantDuration(min(m, 7.9), km+5, 400), d*(1-1e-12))
			assert.Greater(t, SignificantDuration(m, km, 250), d)
		}
	}
}

func TestPulses(t *testing.T) {
	// Baker 2007: 3.9 s at magnitude 7 (from memory).
	assert.InDelta(t, 3.9, PulsePeriodOf(7), 0.05)
	// Hayden et al. 2014 by hand, one standard deviation above the median, 5 km:
	// 0.891 - 0.94 + 1.23 = 1.181.
	assert.InDelta(t, 1/(1+math.Exp(-1.181)), PulseChance(7, 5), 1e-9)
	assert.Zero(t, PulseChance(7, 31))
	assert.Zero(t, PulseChance(5.5, 2))
	assert.Zero(t, PulseChance(7, math.NaN()))
}

func TestComplete(t *testing.T) {
	var s Shaking
	s.Complete(400)
	assert.False(t, s.Known(), "nothing follows from nothing")
	s = Shaking{PulsePeriod: 2}
	s.Complete(400)
	assert.Equal(t, Shaking{PulsePeriod: 2, PulseChance: 1}, s, "a stated pulse is certain")
	s = Shaking{Magnitude: 7, Distance: 60, Duration: 30}
	s.Complete(400)
	assert.Equal(t, Shaking{Magnitude: 7, Distance: 60, Duration: 30}, s, "a stated duration stays; no pulse")
	s = Shaking{Magnitude: 7, Distance: 5}
	s.Complete(400)
	assert.InEpsilon(t, SignificantDuration(7, 5, 400), s.Duration, 1e-12)
	assert.True(t, s.PulsePeriod > 3 && s.PulseChance > 0.5 && s.PulseSpread > 0)
}

func TestASpectrumForgetsTheShakingOfTheOneBefore(t *testing.T) {
	var s Spectrum
	s.Shaking = Shaking{Duration: 9}
	s.Set(NewAxis([]float64{0.2, 1}), 0.3, []float64{0, -1})
	assert.False(t, s.Known())
	s.Duration = 9
	assert.NoError(t, s.SetFourBranch(0.3, 0.75, 0.1, 0.5, 2, 4))
	assert.False(t, s.Known())
}
