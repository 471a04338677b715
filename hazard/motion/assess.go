package motion

import (
	"math"
	"sort"
)

// Assessment measures how well a suite matches its target and how long it shakes.
type Assessment struct {
	Misfit       float64 // largest |mean Sa/target - 1| from 0.05 to 5 s
	MisfitPeriod float64 // s, where that is
	RecordMisfit float64 // rms of ln(Sa/target) over all records and periods
	// Sa at 5 % over Sa at 20 and 30 % damping, geometric mean over records and 0.3 to 3 s
	B20, B30   float64
	D575, D595 float64 // s, median significant durations
	Arias      float64 // m/s, median Arias intensity
	PGA        float64 // g, median
}

// The range of periods in which a suite is judged and the number of periods in it, evenly
// spaced in their logarithm.
const (
	judgedFrom, judgedTo = 0.05, 5.0 // s
	judged               = 60
)

// Assess measures the suite. B20 and B30 belong beside every result: the duration of shaking
// decides how effective damping is.
func (s *Suite) Assess() Assessment {
	var a Assessment
	n := len(s.Records)
	if n == 0 {
		return a
	}
	var periods, target, sa, mean [judged]float64
	for i := range periods {
		periods[i] = judgedFrom * math.Pow(judgedTo/judgedFrom, float64(i)/(judged-1))
		target[i] = s.Target.Sa(periods[i])
	}
	squares := 0.0
	for i := range s.Records {
		s.Records[i].Spectrum(periods[:], 0.05, sa[:])
		for j, x := range sa {
			mean[j] += x / float64(n)
			l := math.Log(x / target[j])
			squares += l * l
		}
	}
	for j, x := range mean {
		if off := math.Abs(x/target[j] - 1); off > a.Misfit {
			a.Misfit, a.MisfitPeriod = off, periods[j]
		}
	}
	a.RecordMisfit = math.Sqrt(squares / float64(judged*n))
	a.B20, a.B30 = s.Reduction(0.20, 0.3, 3), s.Reduction(0.30, 0.3, 3)
	a.D575 = s.median(func(r *Record) float64 { return r.Significant(0.05, 0.75) })
	a.D595 = s.significant()
	a.Arias = s.median((*Record).Arias)
	a.PGA = s.median((*Record).PGA)
	return a
}

// Reduction returns the suite's own B: the pseudo-acceleration at 5 % damping over that at
// damping, as a geometric mean over records and over periods between from and to in s.
func (s *Suite) Reduction(damping, from, to float64) float64 {
	var periods, usual, damped [15]float64
	for i := range periods {
		periods[i] = from * math.Pow(to/from, float64(i)/float64(len(periods)-1))
	}
	sum := 0.0
	for i := range s.Records {
		s.Records[i].Spectrum(periods[:], 0.05, usual[:])
		s.Records[i].Spectrum(periods[:], damping, damped[:])
		for j, x := range usual {
			sum += math.Log(x / damped[j])
		}
	}
	return math.Exp(sum / float64(len(periods)*len(s.Records)))
}

// significant returns the median D5-95 in s.
func (s *Suite) significant() float64 {
	return s.median(func(r *Record) float64 { return r.Significant(0.05, 0.95) })
}

// median returns the median of f over the records.
func (s *Suite) median(f func(*Record) float64) float64 {
	x := make([]float64, len(s.Records))
	for i := range s.Records {
		x[i] = f(&s.Records[i])
	}
	sort.Float64s(x)
	return (x[(len(x)-1)/2] + x[len(x)/2]) / 2
}
