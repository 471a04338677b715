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
