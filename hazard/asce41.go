package hazard

import "fmt"

// A SpectralPair is the short-period and one-second acceleration of a level of
// ASCE 41, on the site's ground.
type SpectralPair struct {
	SXS, SX1 float64 // g
}

// ASCE41Levels are the seismic hazard levels of ASCE 41-17 2.4.1: the E levels for
// existing buildings and the N levels, equivalent to new buildings.
type ASCE41Levels struct {
	BSE1E, BSE2E, BSE1N, BSE2N SpectralPair
}

// The probabilities of exceedance in 50 years behind the levels for existing
// buildings (ASCE 41-17 2.4.1.3 and 2.4.1.4).
const (
	BSE2EProbability = 0.05 // in 50 yr, return period 975 yr
	BSE1EProbability = 0.20 // in 50 yr, return period 224 yr
)

// ASCE41 returns the levels of ASCE 41-17 2.4.1 (from memory) from three pairs on
// the site's ground, in g: mcer, the MCER accelerations SMS and SM1, and those
// with 5 % and 20 % probability of exceedance in 50 years:
//
//	BSE-2N = MCER                  BSE-1N = 2/3 BSE-2N
//	BSE-2E = 5 % in 50 years       <= BSE-2N
//	BSE-1E = 20 % in 50 years      <= BSE-1N
//
// each of SXS and SX1 being capped by itself. Site coefficients are read at each
// level's own accelerations, so the pairs must come with them. It is an error if
// a value is not positive or the 20 % value exceeds the 5 % one.
func ASCE41(mcer, in5, in20 SpectralPair) (ASCE41Levels, error) {
	for _, p := range [...]SpectralPair{mcer, in5, in20} {
		if !(p.SXS > 0 && p.SX1 > 0) {
			return ASCE41Levels{}, fmt.Errorf("spectral pair %g g, %g g: both must be positive", p.SXS, p.SX1)
		}
	}
	if in20.SXS > in5.SXS || in20.SX1 > in5.SX1 {
		return ASCE41Levels{}, fmt.Errorf("20 %% in 50 years, %g g and %g g, is above 5 %% in 50 years, %g g and %g g", in20.SXS, in20.SX1, in5.SXS, in5.SX1)
	}
	new1 := SpectralPair{mcer.SXS * 2 / 3, mcer.SX1 * 2 / 3}
	return ASCE41Levels{
		BSE2N: mcer,
		BSE1N: new1,
		BSE2E: SpectralPair{min(in5.SXS, mcer.SXS), min(in5.SX1, mcer.SX1)},
		BSE1E: SpectralPair{min(in20.SXS, new1.SXS), min(in20.SX1, new1.SX1)},
	}, nil
}

// ASCE41FromCurves returns the levels from the MCER pair and the hazard curves of
// the short-period and one-second acceleration, all for the rock of the map, and
// a site class. The status says if a level lies outside a curve, and carries
// StudyNeeded of any level.
func ASCE41FromCurves(edition ASCE7Edition, class ASCE7Class, ss, s1 float64, short, one *Curve) (ASCE41Levels, Status, error) {
	var status Status
	var failed error
	onGround := func(ss, s1 float64) SpectralPair {
		v, err := ASCE7(edition, class, ss, s1)
		if err != nil && failed == nil {
			failed = err
		}
		status |= v.Status
		return SpectralPair{v.SMS, v.SM1}
	}
	inFifty := func(p float64) SpectralPair {
		f := AnnualFrequency(p, 50)
		a, sa := short.Sa(f)
		b, sb := one.Sa(f)
		status |= sa | sb
		return onGround(a, b)
	}
	mcer := onGround(ss, s1)
	in5, in20 := inFifty(BSE2EProbability), inFifty(BSE1EProbability)
	if failed != nil {
		return ASCE41Levels{}, status, failed
	}
	levels, err := ASCE41(mcer, in5, in20)
	return levels, status, err
}

// Fill makes s the general response spectrum of ASCE 41-17 2.4.1.7 at 5 %
// damping, which is the two-period form with SXS and SX1, for the long-period
// transition tl in s. (Its B1 is 1.0024 at 5 % and is left out.)
func (p SpectralPair) Fill(s *Spectrum, tl float64) error { return TwoPeriod(s, p.SXS, p.SX1, tl) }
