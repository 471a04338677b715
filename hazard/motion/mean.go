package motion

import (
	"math"

	"plinth/hazard"
)

// meanPeriods are the periods of the mean spectrum of a suite, 3 % apart, over those that are matched.
var meanPeriods = func() hazard.Axis {
	var t []float64
	for x := 0.02; x < mostMatched; x *= 1.03 {
		t = append(t, x)
	}
	return hazard.NewAxis(t)
}()

// meanOf returns the geometric mean spectrum of records, the peak ground acceleration included, with
// the corner periods of target.
func meanOf(records []Record, target *hazard.Spectrum) *hazard.Spectrum {
	ln := make([]float64, len(meanPeriods.T))
	sa := make([]float64, len(ln))
	pga := 0.0
	n := float64(len(records))
	for i := range records {
		records[i].Spectrum(meanPeriods.T, 0.05, sa)
		for j, x := range sa {
			ln[j] += math.Log(x) / n
		}
		pga += math.Log(records[i].PGA()) / n
	}
	out := &hazard.Spectrum{}
	out.Set(meanPeriods, math.Exp(pga), ln)
	out.TB, out.TC = target.TB, target.TC
	return out
}
