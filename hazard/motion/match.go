package motion

import "math"

// closeEnough is the worst misfit of the mean at which matching stops: a suite should be within
// 5 % between the matched periods too.
const closeEnough = 0.03

// match changes every record until it, and then the mean of all, has the target's spectrum. It
// multiplies Fourier amplitudes by the target over the response, times times for each record by
// itself and up to as often for all of them alike; then it cuts off peaks beyond the peak ground
// acceleration of the target, again up to as often.
//
//	F(f) <- F(f) Sa,target(1/f)/Sa(1/f)
//
// The first part is that of Gasparini and Vanmarcke 1976, Simulated earthquake motions
// compatible with prescribed response spectra (from memory), on amplitudes. The others are ours:
// a short record cannot hold some periods, and the mean makes up for what all of them lack; and
// amplitudes cannot bring the peak down, which all of them make. Cutting from the start would
// flatten the envelope. The round with the closest mean is kept.
func (m *maker) match(recs []Record, target *shape, times int) {
	var change [matched]float64
	for range times {
		for i := range recs {
			recs[i].Spectrum(matchPeriods, 0.05, change[:])
			for j, x := range change {
				change[j] = target.sa[j] - math.Log(x)
			}
			m.amplify(recs[i].Accel, change[:])
		}
	}
	m.together(recs, target, times, func([]float64) {})
	peak := math.Exp(target.pga)
	m.together(recs, target, times, func(accel []float64) { m.cut(accel, peak) })
}

// together brings the mean of the records to the target in up to times rounds, each of which begins
// with shape on every record, and keeps the closest.
func (m *maker) together(recs []Record, target *shape, times int, shape func(accel []float64)) {
	var change [matched]float64
	best, least := make([][]float64, len(recs)), math.Inf(1)
	for round := range times + 1 {
		for i := range recs {
			shape(recs[i].Accel)
		}
		if worst := misfit(recs, target, change[:]); worst < least {
			least = worst
			for i := range recs {
				best[i] = append(best[i][:0], recs[i].Accel...)
			}
		}
		if least < closeEnough || round == times {
			break
		}
		for i := range recs {
			m.amplify(recs[i].Accel, change[:])
		}
	}
	for i := range recs {
		copy(recs[i].Accel, best[i])
	}
}

// misfit fills change with ln of the target over the mean of the records and returns the largest
// within the judged periods.
func misfit(recs []Record, target *shape, change []float64) (worst float64) {
	var mean, sa [matched]float64
	for i := range recs {
		recs[i].Spectrum(matchPeriods, 0.05, sa[:])
		for j, x := range sa {
			mean[j] += x / float64(len(recs))
		}
	}
	for j, x := range mean {
		change[j] = target.sa[j] - math.Log(x)
		if matchPeriods[j] >= 0.9*judgedFrom && matchPeriods[j] <= 1.1*judgedTo {
			worst = max(worst, math.Abs(change[j]))
		}
	}
	return worst
}

// cut limits accel to a peak and brings the record to rest again.
func (m *maker) cut(accel []float64, peak float64) {
	for i, a := range accel {
		accel[i] = min(max(a, -peak), peak)
	}
	correctBaseline(accel, m.weight)
}

// amplify multiplies the Fourier amplitudes of accel by exp(change) at the period of each, and
// brings the record to rest again.
func (m *maker) amplify(accel, change []float64) {
	m.fft.Coefficients(m.work, accel)
	for i := range m.work {
		x := onLine(change, m.ln[i])
		m.work[i] *= complex(math.Exp(min(max(x, -mostChange), mostChange))/float64(len(accel)), 0)
	}
	m.fft.Sequence(accel, m.work)
	for i := range accel {
		accel[i] *= m.guard[i]
	}
	correctBaseline(accel, m.weight)
}

// mostChange is the largest change of ln amplitude in one iteration (judgement: it stops the
// growth of a period that the record can hardly hold).
const mostChange = 1.0
