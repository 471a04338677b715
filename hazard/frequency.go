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

// PowerLawFactor returns the ratio of the acceleration of return period to to that of return
// period from, both in yr, for the exponent k > 0 of H ~ a^-k:
//
//	a(to)/a(from) = (to/from)^(1/k)
//
// EN 1998-1 2.1(4) gives its inverse as the importance factor and k = 3 as the
// usual order.
func PowerLawFactor(from, to, k float64) float64 { return math.Pow(to/from, 1/k) }

// ExtendPowerLaw fills the site's spectra, one for each of its return periods, from one
// spectrum that holds for the return period reference in yr, by PowerLawFactor. Every period of
// the spectrum is scaled alike. The status gains PowerLaw if any return period differs from the
// reference.
//
// It is an error if an exponent or a return period is not positive and finite; the site is then
// unchanged.
func (s *Site) ExtendPowerLaw(at *Spectrum, reference, k float64) error {
	if !(reference > 0 && k > 0) || math.IsInf(reference+k, 0) {
		return fmt.Errorf("power law with a reference return period of %g yr and k = %g: both must be "+
			"positive", reference, k)
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
