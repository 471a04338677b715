package motion

import (
	"fmt"
	"math"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
)

// makeSuite returns the suite of an empty library.
func makeSuite(target *hazard.Spectrum, s Settings) (*Suite, error) {
	l, err := NewLibrary(s, 1)
	if err != nil {
		return nil, err
	}
	return l.Suite(target)
}

// ground returns the EN 1998-1 type 1 spectrum of a ground type at ag in g.
func ground(t testing.TB, class hazard.SiteClass, ag float64) *hazard.Spectrum {
	t.Helper()
	var sp hazard.Spectrum
	require.NoError(t, hazard.Eurocode8Type1.Elastic(&sp, class, ag))
	return &sp
}

// TestSuiteFitsItsSpectrum checks that the mean is within 5 % of the target from 0.05
// to 5 s, closer than EN 1998-1 3.2.3.1.2(4) asks of artificial records (not below
// 90 % from 0.2 T1 to 2 T1).
func TestSuiteFitsItsSpectrum(t *testing.T) {
	s, err := makeSuite(ground(t, 'D', 0.3), DefaultSettings())
	require.NoError(t, err)
	a := s.Assess()
	assert.Less(t, a.Misfit, 0.05, "at %.2f s", a.MisfitPeriod)
	assert.Less(t, a.RecordMisfit, 0.15, "rms ln misfit of single records")
}

// TestRecordsHaveThePeakOfTheirSpectrum checks the peak ground acceleration, which rigid contents and
// the ground floor feel, and that the mean spectrum is that of the records.
func TestRecordsHaveThePeakOfTheirSpectrum(t *testing.T) {
	set := DefaultSettings()
	set.Records = 5
	for _, class := range []hazard.SiteClass{'A', 'D'} {
		for _, d := range []float64{Short.Significant(), 8} {
			set.Envelope = EnvelopeFor(d)
			s, err := makeSuite(ground(t, class, 0.3), set)
			require.NoError(t, err)
			sum := 0.0
			for i := range s.Records {
				assert.InEpsilon(t, s.Target.PGA, s.Records[i].PGA(), 0.03, "%s, %g s", class, d)
				sum += math.Log(s.Records[i].Sa(meanPeriods.T[100], 0.05)) / 5
			}
			assert.InEpsilon(t, s.Target.PGA, s.Mean.PGA, 0.03)
			assert.InEpsilon(t, math.Exp(sum), s.Mean.Sa(meanPeriods.T[100]), 1e-6)
			assert.InEpsilon(t, hazard.DurationWorth(s.Assess().D595), s.Mean.Duration, 1e-9)
			assert.Less(t, s.Assess().D595, 1.6*d, "cutting peaks must not flatten the envelope")
		}
	}
}

// TestRecordsLastAsTheirSpectrumSays checks the duration of records whose settings state none.
func TestRecordsLastAsTheirSpectrumSays(t *testing.T) {
	set := DefaultSettings()
	set.Records, set.Iterations, set.Step, set.Envelope = 3, 6, 0.01, Envelope{}
	sp := ground(t, 'B', 0.3)
	for _, d := range []float64{0, 6, 30} {
		sp.Duration = d
		s, err := makeSuite(sp, set)
		require.NoError(t, err)
		if d == 0 {
			d = hazard.CodeDuration
		}
		assert.InEpsilon(t, d, s.Assess().D595, 0.25)
	}
}

// TestDurationDecidesWhatDampingIsWorth checks the suite's own B against the codes: short
// records within 8 % of B = 4/(5.6 - ln 100 b) of ASCE 41-17 2.4.1.7.1 (from memory), 1.54 and
// 1.82 at 20 and 30 %, long ones far above.
func TestDurationDecidesWhatDampingIsWorth(t *testing.T) {
	sp := ground(t, 'B', 0.3)
	set := DefaultSettings()
	set.Records = 4
	short, err := makeSuite(sp, set)
	require.NoError(t, err)
	set.Envelope = Long
	set.Iterations, set.Records = 4, 2
	long, err := makeSuite(sp, set)
	require.NoError(t, err)
	a, b := short.Assess(), long.Assess()
	assert.InEpsilon(t, hazard.ReductionASCE41(0.20), a.B20, 0.08)
	assert.InEpsilon(t, hazard.ReductionASCE41(0.30), a.B30, 0.08)
	assert.Greater(t, b.B30, 1.15*a.B30)
	assert.InEpsilon(t, Long.Significant(), b.D595, 0.15)
	assert.Greater(t, b.Arias, 2*a.Arias)
}

// TestRecordsComeToRest checks velocity and displacement of the ground at the end against
// their peaks.
func TestRecordsComeToRest(t *testing.T) {
	set := DefaultSettings()
	set.Records = 2
	s, err := makeSuite(ground(t, 'C', 0.2), set)
	require.NoError(t, err)
	for _, r := range s.Records {
		var v, u, mostV, mostU float64
		for _, a := range r.Accel {
			v += a
			u += v
			mostV, mostU = max(mostV, math.Abs(v)), max(mostU, math.Abs(u))
		}
		assert.Less(t, math.Abs(v), 1e-9*mostV)
		assert.Less(t, math.Abs(u), 1e-6*mostU)
	}
}

// TestLibraryOfManyIsThatOfOne checks that a library returns the same suites as an empty one,
// to the bit, in any order, from many goroutines, with room for one shape only.
func TestLibraryOfManyIsThatOfOne(t *testing.T) {
	set := DefaultSettings()
	set.Records, set.Iterations = 2, 1
	lib, err := NewLibrary(set, 1)
	require.NoError(t, err)
	var wg sync.WaitGroup
	for i := range 4 {
		sp := ground(t, hazard.SiteClass('A'+i%3), 0.1*float64(1+i))
		want, err := makeSuite(sp, set)
		require.NoError(t, err)
		wg.Go(func() {
			got, err := lib.Suite(sp)
			assert.NoError(t, err)
			assert.Equal(t, want, got)
		})
	}
	wg.Wait()
}

// TestScaledSpectraShareRecords checks that records are made once for one shape.
func TestScaledSpectraShareRecords(t *testing.T) {
	set := DefaultSettings()
	set.Records, set.Iterations = 2, 1
	lib, err := NewLibrary(set, 4)
	require.NoError(t, err)
	a, err := lib.Suite(ground(t, 'B', 0.1))
	require.NoError(t, err)
	b, err := lib.Suite(ground(t, 'B', 0.37))
	require.NoError(t, err)
	assert.Same(t, &a.Records[1].Accel[0], &b.Records[1].Accel[0])
	assert.InEpsilon(t, 3.7*a.Records[1].PGA(), b.Records[1].PGA(), 1e-9)
}

// TestSeedsDecide checks that each record has noise of its own.
func TestSeedsDecide(t *testing.T) {
	set := DefaultSettings()
	set.Records, set.Iterations = 3, 0
	sp := ground(t, 'B', 0.2)
	three, err := makeSuite(sp, set)
	require.NoError(t, err)
	set.Records = 2
	two, err := makeSuite(sp, set)
	require.NoError(t, err)
	assert.Equal(t, three.Records[:2], two.Records)
	set.Seed++
	other, err := makeSuite(sp, set)
	require.NoError(t, err)
	assert.NotEqual(t, two.Records[0].Accel, other.Records[0].Accel)
}

func TestSettingsAndSpectraThatCannotBe(t *testing.T) {
	bad := Settings{Records: 0, Envelope: Envelope{2, 1, 3}, Step: 1, Iterations: -1}
	err := bad.Validate()
	for _, word := range []string{"records", "envelope", "step", "iterations"} {
		assert.ErrorContains(t, err, word)
	}
	_, err = makeSuite(&hazard.Spectrum{}, DefaultSettings())
	assert.ErrorContains(t, err, "positive and finite")
	_, err = makeSuite(ground(t, 'A', 0.1), bad)
	assert.Error(t, err)
	_, err = NewLibrary(bad, 1)
	assert.Error(t, err)
}

func BenchmarkSuite(b *testing.B) {
	sp := ground(b, 'B', 0.3)
	for _, e := range []struct {
		name     string
		envelope Envelope
	}{{"short", Short}, {"long", Long}} {
		b.Run(fmt.Sprintf("%s/11", e.name), func(b *testing.B) {
			set := DefaultSettings()
			set.Envelope = e.envelope
			for b.Loop() {
				_, err := makeSuite(sp, set)
				require.NoError(b, err)
			}
		})
	}
}
