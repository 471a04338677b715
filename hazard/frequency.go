package hazard

import (
	"fmt"
	"math"
)

// AnnualFrequency returns the annual frequency in 1/yr of an event whose
// probability of happening at least once in t years is p, 0 <= p < 1, under a
// Poisson process:
//
//	lambda = -ln(1 - p)/t
func AnnualFrequency(p, t float64) float64 { return -math.Log1p(-p) / t }

// Probability returns the probability that an event of annual frequency lambda
// in 1/yr happens at least once in t years under a Poisson process:
//
//	p = 1 - exp(-lambda t)
func Probability(lambda, t float64) float64 { return -math.Expm1(-lambda * t) }

// ReturnPeriod returns the return period in yr of an event whose probability of
// happening at least once in t years is p.
func ReturnPeriod(p, t float64) float64 { return 1 / AnnualFrequency(p, t) }

// A PowerCurve is a hazard curve that is straight in ln(frequency) - ln(Sa):
//
//	H(a) = K0 a^-K
//
// with a in g and H in 1/yr (Cornell 1996; EN 1998-1 2.1(4) with K about 3). It
// holds near the points it was drawn through; real curves steepen with a.
type PowerCurve struct {
	K0 float64 // 1/yr, frequency at 1 g
	K  float64 // > 0
}

// PowerCurveThrough returns the power law through two points of a hazard curve,
// accelerations a in g and annual frequencies h in 1/yr. The larger acceleration
// must have the lower frequency.
func PowerCurveThrough(a1, h1, a2, h2 float64) (PowerCurve, error) {
	k := -math.Log(h2/h1) / math.Log(a2/a1)
	if !(a1 > 0 && a2 > 0 && h1 > 0 && h2 > 0 && k > 0) || math.IsInf(k, 0) {
		return PowerCurve{}, fmt.Errorf("no power law through %g g at %g 1/yr and %g g at %g 1/yr: the larger acceleration must have the lower frequency", a1, h1, a2, h2)
	}
	return PowerCurve{K0: h1 * math.Pow(a1, k), K: k}, nil
}

// Frequency returns the annual frequency in 1/yr of exceeding a in g.
func (p PowerCurve) Frequency(a float64) float64 { return p.K0 * math.Pow(a, -p.K) }

// Sa returns the acceleration in g exceeded with annual frequency h in 1/yr.
func (p PowerCurve) Sa(h float64) float64 { return math.Pow(h/p.K0, -1/p.K) }

// PowerLawFactor returns what an acceleration of return period from is
// multiplied by to get the one of return period to, both in yr, for the exponent
// k > 0 of H ~ a^-k:
//
//	a(to)/a(from) = (to/from)^(1/k)
//
// EN 1998-1 2.1(4) gives its inverse as the importance factor and k = 3 as the
// usual order.
func PowerLawFactor(from, to, k float64) float64 { return math.Pow(to/from, 1/k) }

// ExtendPowerLaw fills the site's spectra, one for each of its return periods,
// from one spectrum that holds for the return period reference in yr, by
// PowerLawFactor. Every period of the spectrum is scaled alike. The status gains
// PowerLaw if any return period differs from the reference.
//
// Exponents and return periods must be positive and finite; it is an error
// otherwise, and the site is left as it was.
func (s *Site) ExtendPowerLaw(at *Spectrum, reference, k float64) error {
	if !(reference > 0 && k > 0) || math.IsInf(reference+k, 0) {
		return fmt.Errorf("power law with a reference return period of %g yr and k = %g: both must be positive", reference, k)
	}
	for len(s.Spectra) < len(s.ReturnPeriod) {
		s.Spectra = append(s.Spectra, Spectrum{})
	}
	s.Spectra = s.Spectra[:len(s.ReturnPeriod)]
	for i, tr := range s.ReturnPeriod {
		s.Spectra[i].CopyFrom(at)
		if tr != reference {
			s.Spectra[i].Scale(PowerLawFactor(reference, tr, k))
			s.Status |= PowerLaw
		}
	}
	return nil
}
