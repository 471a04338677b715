package hazard

import (
	"fmt"
	"math"
)

// ASCE7Class is a site class of ASCE 7-16 Table 20.3-1. For classes B and D it also records how
// the class is known, since the coefficients depend on it. Class F has no coefficients: it
// needs a site response analysis (11.4.8).
type ASCE7Class uint8

// The classes.
const (
	ASCE7A          ASCE7Class = iota // hard rock
	ASCE7B                            // rock, shear wave velocity measured at the site
	ASCE7BEstimated                   // rock, velocity not measured (11.4.3)
	ASCE7C                            // very dense soil and soft rock
	ASCE7D                            // stiff soil
	ASCE7DDefault                     // class D assumed because there are no soil data (11.4.3, 11.4.4)
	ASCE7E                            // soft clay

	asce7Classes = iota
)

var asce7Names = [asce7Classes]string{"A", "B measured", "B estimated", "C", "D", "D by default", "E"}

// String returns the letter of the class and how it is known.
func (c ASCE7Class) String() string {
	if int(c) >= len(asce7Names) {
		return "no class"
	}
	return asce7Names[c]
}

// ASCE7ClassOf returns the class whose coefficients apply to a register's letter, with
// AssumedClass if the register has none.
//
// measured tells whether the shear wave velocity was measured at the site. If not, class B
// becomes the estimated one and class D the one by default, as 11.4.3 requires; both are on the
// safe side.
func ASCE7ClassOf(c SiteClass, measured bool) (ASCE7Class, Status, error) {
	switch {
	case c == 0:
		return ASCE7DDefault, AssumedClass, nil
	case c == 'A':
		return ASCE7A, 0, nil
	case c == 'B' && measured:
		return ASCE7B, 0, nil
	case c == 'B':
		return ASCE7BEstimated, 0, nil
	case c == 'C':
		return ASCE7C, 0, nil
	case c == 'D' && measured:
		return ASCE7D, 0, nil
	case c == 'D':
		return ASCE7DDefault, 0, nil
	case c == 'E':
		return ASCE7E, 0, nil
	}
	return 0, 0, fmt.Errorf("site class %s has no coefficients in ASCE 7-16 Table 11.4-1; a site response "+
		"analysis is needed (11.4.8)", c)
}

// An ASCE7Edition names a set of site coefficients.
type ASCE7Edition uint8

// The editions.
const (
	ASCE716 ASCE7Edition = iota // ASCE 7-16, ASCE 41-17
	ASCE710                     // ASCE 7-05, ASCE 7-10, ASCE 41-13
)

// ASCE7Values are the spectral parameters of a site.
type ASCE7Values struct {
	Fa, Fv   float64 // site coefficients at 0.2 s and 1 s
	SMS, SM1 float64 // g, MCER at 0.2 s and 1 s, on the site's ground
	SDS, SD1 float64 // g, design: two thirds of them
	Status   Status  // StudyNeeded by 11.4.8
}

// ASCE7 returns the spectral parameters of a site by ASCE 7-16 11.4.4 and 11.4.5:
//
//	SMS = Fa SS      SM1 = Fv S1      (11.4-1, 11.4-2)
//	SDS = 2/3 SMS    SD1 = 2/3 SM1    (11.4-3, 11.4-4)
//
// ss and s1 are the mapped MCER accelerations at 0.2 s and 1 s in g, for the
// rock of the map. Fa and Fv are read by straight-line interpolation.
//
// With ASCE716 the status is StudyNeeded where 11.4.8 requires a ground motion hazard analysis
// for every building: class E with SS >= 1.0 and classes D and E with S1 >= 0.2. The exceptions
// of 11.4.8 depend on the building's period and method of analysis and are not applied here.
// IsolationStudyNeeded has the condition for isolated and damped buildings.
func ASCE7(edition ASCE7Edition, class ASCE7Class, ss, s1 float64) (ASCE7Values, error) {
	if !(ss > 0 && s1 > 0) || math.IsInf(ss+s1, 0) {
		return ASCE7Values{}, fmt.Errorf("SS %g g and S1 %g g: both must be positive", ss, s1)
	}
	if class >= asce7Classes || edition > ASCE710 {
		return ASCE7Values{}, fmt.Errorf("no site coefficients for class %d in edition %d", class, edition)
	}
	fa, fv := &fa16, &fv16
	if edition == ASCE710 {
		fa, fv = &fa10, &fv10
	}
	v := ASCE7Values{Fa: fa.value(class, ss), Fv: fv.value(class, s1)}
	v.SMS, v.SM1 = v.Fa*ss, v.Fv*s1
	v.SDS, v.SD1 = v.SMS*2/3, v.SM1*2/3
	if edition == ASCE716 && studyNeeded(class, ss, s1) {
		v.Status = StudyNeeded
	}
	return v, nil
}

// studyNeeded is ASCE 7-16 11.4.8, conditions 2 and 3, in g.
func studyNeeded(class ASCE7Class, ss, s1 float64) bool {
	switch class {
	case ASCE7D, ASCE7DDefault:
		return s1 >= 0.2
	case ASCE7E:
		return ss >= 1.0 || s1 >= 0.2
	}
	return false
}

// IsolationStudyNeeded reports whether ASCE 7-16 11.4.8, condition 1, asks for a
// ground motion hazard analysis because the building is isolated or has a
// damping system: S1 >= 0.6 g.
func IsolationStudyNeeded(s1 float64) bool { return s1 >= 0.6 }

// ASCE7PGAM returns the MCEG peak ground acceleration on the site's ground in g,
//
//	PGAM = FPGA PGA    (ASCE 7-16 11.8-1)
//
// for the mapped pga in g.
func ASCE7PGAM(edition ASCE7Edition, class ASCE7Class, pga float64) float64 {
	if edition == ASCE710 {
		return fpga10.value(class, pga) * pga
	}
	return fpga16.value(class, pga) * pga
}

// TwoPeriod makes s the response spectrum of ASCE 7-16 11.4.6:
//
//	Sa = SDS (0.4 + 0.6 T/T0)    T < T0 = 0.2 SD1/SDS
//	Sa = SDS                     T0 <= T <= TS = SD1/SDS
//	Sa = SD1/T                   TS < T <= TL
//	Sa = SD1 TL/T2               T > TL
//
// with sds and sd1 in g and the long-period transition tl in s. SMS and SM1 give
// the MCER spectrum (11.4.7), SXS and SX1 the one of ASCE 41-17 2.4.1.7. The
// peak ground acceleration of the spectrum is 0.4 SDS, which is not PGAM.
//
// It is an error if TS reaches TL, where the form has no meaning.
func TwoPeriod(s *Spectrum, sds, sd1, tl float64) error {
	ts := sd1 / sds
	if !(sds > 0 && sd1 > 0) || !(tl > ts) {
		return fmt.Errorf("two-period spectrum with SDS %g g, SD1 %g g, TL %g s: all must be positive and "+
			"SD1/SDS below TL", sds, sd1, tl)
	}
	return s.SetFourBranch(0.4*sds, sds, 0.2*ts, ts, tl, math.Inf(1))
}
