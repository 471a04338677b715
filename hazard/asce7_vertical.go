package hazard

// ASCE7Cv returns the vertical coefficient Cv of ASCE 7-16 Table 11.9-1 for the
// mapped ss in g.
func ASCE7Cv(class ASCE7Class, ss float64) float64 { return cv16.value(class, ss) }

// ASCE7Vertical returns the MCER vertical spectral acceleration in g of ASCE
// 7-16 11.9.2 at vertical period tv in s:
//
//	SaMv = 0.3 Cv SMS                               Tv <= 0.025 s
//	SaMv = 20 Cv SMS (Tv - 0.025) + 0.3 Cv SMS      Tv <= 0.05 s
//	SaMv = 0.8 Cv SMS                               Tv <= 0.15 s
//	SaMv = 0.8 Cv SMS (0.15/Tv)^0.75                Tv <= 2.0 s
//
// and not less than half the horizontal MCER ordinate at the same period. The design value is
// two thirds of it. Beyond 2 s the standard asks for a site-specific procedure; the function
// continues the last branch there, which the lower limit soon governs.
func ASCE7Vertical(tv, cv, sms float64, horizontal *Spectrum) float64 {
	v := cv * sms
	switch {
	case tv <= 0.025:
		v *= 0.3
	case tv <= 0.05:
		v *= 20*(tv-0.025) + 0.3
	case tv <= 0.15:
		v *= 0.8
	default:
		v *= 0.8 * pow34(0.15/tv)
	}
	return max(v, horizontal.Sa(tv)/2)
}
