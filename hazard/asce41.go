package hazard

import (
	"fmt"
	"math"
)

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
// SXS and SX1 are capped separately. Site coefficients depend on the accelerations of each
// level, so they must already be in the pairs. It is an error if a value is not positive or the
// 20 % value exceeds the 5 % one.
func ASCE41(mcer, in5, in20 SpectralPair) (ASCE41Levels, error) {
	for _, p := range [...]SpectralPair{mcer, in5, in20} {
		if !(p.SXS > 0 && p.SX1 > 0) {
			return ASCE41Levels{}, fmt.Errorf("spectral pair %g g, %g g: both must be positive", p.SXS, p.SX1)
		}
	}
	if in20.SXS > in5.SXS || in20.SX1 > in5.SX1 {
		return ASCE41Levels{},
			fmt.Errorf("20 %% in 50 years, %g g and %g g, is above 5 %% in 50 years, %g g and %g g", in20.SXS,
				in20.SX1, in5.SXS, in5.SX1)
	}
	new1 := SpectralPair{mcer.SXS * 2 / 3, mcer.SX1 * 2 / 3}
	return ASCE41Levels{
		BSE2N: mcer,
		BSE1N: new1,
		BSE2E: SpectralPair{min(in5.SXS, mcer.SXS), min(in5.SX1, mcer.SX1)},
		BSE1E: SpectralPair{min(in20.SXS, new1.SXS), min(in20.SX1, new1.SX1)},
	}, nil
}

// levelPeriods in s are the periods at which a site's spectra are read for its levels: those of
// multi-period spectra within the range of ASCE 7-22 21.4 (from memory).
var levelPeriods = NewAxis([]float64{0.2, 0.25, 0.3, 0.4, 0.5, 0.75, 1, 1.5, 2, 3, 4, 5})

// ASCE41 returns the levels of ASCE 41-17 2.4.1 at a site from its own spectra, for
// the average shear wave velocity vs30 in m/s, NaN if not known:
//
//	BSE-2N   the risk-targeted motion of ASCE 7-16 21.2.1.2 at each period
//	BSE-2E   5 % in 50 years        BSE-1E   20 % in 50 years
//
// each raised to the direction of the largest response (MaximumDirection), and SXS
// and SX1 read from it by ASCE722Parameters. The deterministic limit of 21.2.2 and the
// lower limit of 21.3 need more than the site's hazard and are left out.
//
// The status tells which level lies outside the site's return periods. It is an error if the
// levels do not make a hazard curve, or if no motion within them has the target's risk.
func (s *Site) ASCE41(vs30 float64) (ASCE41Levels, Status, error) {
	var status Status
	var ln [3][]float64 // of the risk-targeted motion, 5 % and 20 % in 50 years
	for _, t := range levelPeriods.T {
		curve, err := s.Curve(t)
		if err != nil {
			return ASCE41Levels{}, status, fmt.Errorf("at %g s: %w", t, err)
		}
		mcer, st, err := curve.RiskTargeted(ASCE7Risk)
		if err != nil {
			return ASCE41Levels{}, status, fmt.Errorf("at %g s: %w", t, err)
		}
		in5, st5 := curve.Sa(AnnualFrequency(BSE2EProbability, 50))
		in20, st20 := curve.Sa(AnnualFrequency(BSE1EProbability, 50))
		status |= st | st5 | st20
		for i, a := range [...]float64{mcer, in5, in20} {
			ln[i] = append(ln[i], math.Log(MaximumDirection(t)*a))
		}
	}
	pair := func(ln []float64) SpectralPair {
		var sp Spectrum
		sp.Set(levelPeriods, 0.4*math.Exp(ln[0]), ln)
		sxs, sx1 := ASCE722Parameters(&sp, vs30)
		return SpectralPair{sxs, sx1}
	}
	levels, err := ASCE41(pair(ln[0]), pair(ln[1]), pair(ln[2]))
	return levels, status, err
}
