package motion

import (
	"math"
	"math/cmplx"
	"math/rand/v2"

	"gonum.org/v1/gonum/dsp/fourier"
)

// The periods at which a record is matched, evenly spaced in their logarithm from leastMatched
// to mostMatched. They reach beyond the range in which a suite is judged, so that its ends are
// matched, and down to where a spectrum is close to the peak ground acceleration. 68 periods
// are 9 % apart, less than the half-power bandwidth of 5 % damping (10 %).
const (
	matched      = 68
	leastMatched = 0.015 // s
	mostMatched  = 6.0   // s
)

// matchPeriods are the periods in ascending order; matchLn are their logarithms.
var matchPeriods, matchLn = func() (t, ln []float64) {
	for i := range matched {
		l := math.Log(leastMatched) + math.Log(mostMatched/leastMatched)*float64(i)/(matched-1)
		t, ln = append(t, math.Exp(l)), append(ln, l)
	}
	return t, ln
}()

// shape is a target: ln of Sa in g at matchPeriods, and of the peak ground acceleration.
type shape struct {
	sa  [matched]float64
	pga float64
}

// at returns Sa in g at the period with logarithm ln; the ends are held.
func (s *shape) at(ln float64) float64 { return math.Exp(onLine(s.sa[:], ln)) }

// onLine returns y at ln on the lines through (matchLn, y); the ends are held.
func onLine(y []float64, ln float64) float64 {
	x := (ln - matchLn[0]) / (matchLn[1] - matchLn[0])
	switch {
	case !(x > 0):
		return y[0]
	case x >= matched-1:
		return y[matched-1]
	}
	i := int(x)
	return y[i] + (x-float64(i))*(y[i+1]-y[i])
}

// maker makes records of one length.
type maker struct {
	weight []float64 // envelope
	guard  []float64 // window that keeps a record within its ends
	fft    *fourier.FFT
	work   []complex128
	ln     []float64 // ln of the period of each Fourier coefficient
}

func newMaker(step float64, weight []float64) *maker {
	n := len(weight)
	m := &maker{weight: weight, guard: make([]float64, n), fft: fourier.NewFFT(n)}
	for i, w := range weight {
		m.guard[i] = min(1, w/guarded)
	}
	m.work, m.ln = make([]complex128, n/2+1), make([]float64, n/2+1)
	for i := range m.ln {
		m.ln[i] = math.Log(step / max(m.fft.Freq(i), 0.5/float64(n)))
	}
	return m
}

// guarded is the value of the envelope below which matching may not strengthen a record:
// changed amplitudes spread a record in time (judgement).
const guarded = 0.05

// closeEnough is the worst misfit of the mean at which matching stops: a suite should be within
// 5 % between the matched periods too.
const closeEnough = 0.03

// even returns the smallest number of samples, at least n, that is 2^a 3^b 5^c with a > 0, for
// which the fast Fourier transform is fast.
func even(n int) int {
	for n += n % 2; ; n += 2 {
		m := n
		for _, p := range []int{2, 3, 5} {
			for m%p == 0 {
				m /= p
			}
		}
		if m == 1 {
			return n
		}
	}
}

// noise returns coefficients of random phase, with amplitudes proportional to a first guess
// from the target.
func (m *maker) noise(rng *rand.Rand, target *shape) []complex128 {
	coeff := make([]complex128, len(m.ln))
	for i, ln := range m.ln {
		coeff[i] = cmplx.Rect(target.at(ln)*math.Exp(-ln/2), 2*math.Pi*rng.Float64())
	}
	coeff[0], coeff[len(coeff)-1] = 0, 0
	return coeff
}

// shake synthesises the noise of the coefficients under the envelope.
func (m *maker) shake(dst []float64, coeff []complex128) {
	copy(m.work, coeff)
	m.fft.Sequence(dst, m.work)
	for i := range dst {
		dst[i] *= m.weight[i]
	}
	correctBaseline(dst, m.weight)
}

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
