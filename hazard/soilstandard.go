package hazard

import (
	"fmt"
	"math"
	"strings"
)

// SoilStandard names the standard that defines a site class's letter and its amplification of
// rock motion. The same letter means different ground in each standard.
type SoilStandard uint8

// The standards.
const (
	SoilASCE7   SoilStandard = iota // ASCE 7-16 Table 20.3-1
	SoilEN1998                      // EN 1998-1 Table 3.1
	SoilNZS1170                     // NZS 1170.5 3.1.3
	SoilNTC2018                     // NTC 2018 Table 3.2.II, whose velocities are those of EN 1998-1

	soilStandards = iota
)

var soilStandardSlugs = [soilStandards]string{"asce7-16", "en1998-1", "nzs1170.5", "ntc2018"}

// String returns the word a plan names the standard by.
func (s SoilStandard) String() string { return soilStandardSlugs[s] }

// ParseSoilStandard returns the standard called slug.
func ParseSoilStandard(slug string) (SoilStandard, error) {
	for i, have := range soilStandardSlugs {
		if have == slug {
			return SoilStandard(i), nil
		}
	}
	return 0, fmt.Errorf("soil standard %q is not one of %s", slug, strings.Join(soilStandardSlugs[:], ", "))
}

// Rock returns the class of the ground for which maps are made: B of ASCE 7-16, not measured
// (11.4.3), and of NZS 1170.5, type A of EN 1998-1 and NTC 2018.
func (s SoilStandard) Rock() SiteClass {
	if s == SoilEN1998 || s == SoilNTC2018 {
		return 'A'
	}
	return 'B'
}

// Class returns the class of a mean shear wave velocity of the upper 30 m in m/s by the bounds
// of the standard, see SiteClassASCE7, SiteClassEN1998 and SiteClassNZS1170. The last also
// needs a site period and the thickness of soft soil; 30 m of soil of that velocity are assumed
// [judgement]: class E below 150 m/s, D below 200 m/s, where 4 H/Vs passes 0.6 s.
func (s SoilStandard) Class(vs30 float64) (SiteClass, error) {
	switch s {
	case SoilEN1998, SoilNTC2018:
		return SiteClassEN1998(vs30)
	case SoilNZS1170:
		soft := 0.0
		if vs30 < 150 {
			soft = 30
		}
		return SiteClassNZS1170(vs30, SitePeriod(30, vs30), soft)
	}
	return SiteClassASCE7(vs30)
}

// Contradicts reports whether ground of mean shear wave velocity vs30 in m/s cannot be of class
// c by the bounds of the standard, see Class. It is false where a velocity does not decide: for
// F and foreign letters; for class E by a layer of soft clay (ASCE 7-16 20.3.2) unless the
// velocity is that of C or firmer; for type E of EN 1998-1 and NTC 2018, 5 to 20 m of soil over
// rock, unless the velocity is that of A; in NZS 1170.5 for C given as D and the reverse, which
// a site period divides, soft rock given as strong, and stiff gravel given as rock. It is false
// for a vs30 that is not positive.
func (s SoilStandard) Contradicts(c SiteClass, vs30 float64) bool {
	would, err := s.Class(vs30)
	if err != nil || c < 'A' || c > 'E' || c == would {
		return false
	}
	switch s {
	case SoilASCE7:
		return c != 'E' || would < 'D'
	case SoilNZS1170:
		switch c {
		case 'A':
			return true
		case 'B', 'E':
			return c == 'B' && would != 'A' || c == 'E' && would <= 'B'
		}
		return would == 'A' || would == 'E'
	}
	return c != 'E' || would == 'A'
}

// asce7Letters gives the nearest class of ASCE 7-16 to each class A to E: by velocity for EN
// 1998-1, whose type E, 5 to 20 m of soil over rock, maps to D; by name for NZS 1170.5
// [judgement].
var asce7Letters = [soilStandards]string{"ABCDE", "BCDED", "ABCDE", "BCDED"}

// ASCE7 returns the class of ASCE 7-16 nearest to class c of the standard, for rules stated in
// ASCE 7's letters. F, unknown and foreign classes are returned unchanged.
func (s SoilStandard) ASCE7(c SiteClass) SiteClass {
	if c < 'A' || c > 'E' {
		return c
	}
	return SiteClass(asce7Letters[s][c-'A'])
}

// SitePeriod returns the period in s of ground of class c of the standard and of mean shear wave
// velocity vs30 in m/s, NaN where not known,
//
//	T = 4 H/V,  H = 30 m [judgement]
//
// with V the velocity, or one usual for the class of ASCE 7-16 nearest to c [judgement]: the
// middle of its range for C, 560 m/s, and D, 270 m/s, and 100 m/s for E and F, soft clay, whose
// range has no lower end. Type E of EN 1998-1, 5 to 20 m of soil, is 12 m at 250 m/s; classes C, D
// and E of NZS 1170.5, which a period of 0.6 s tells apart, have 0.4, 0.9 and 1.2 s. Rock, of
// classes A and B or above 760 m/s, has no layer that sways and returns 0; an unknown class
// returns NaN. Deep deposits and strong shaking have longer periods.
func (s SoilStandard) SitePeriod(c SiteClass, vs30 float64) float64 {
	const layer = 30 // m
	european := s == SoilEN1998 || s == SoilNTC2018
	switch {
	case vs30 > 760:
		return 0
	case vs30 > 0:
		return SitePeriod(layer, vs30)
	case european && c == 'E':
		return SitePeriod(12, 250)
	case s == SoilNZS1170 && c >= 'C' && c <= 'E':
		return [...]float64{0.4, 0.9, 1.2}[c-'C']
	}
	switch s.ASCE7(c) {
	case 'A', 'B':
		return 0
	case 'C':
		return SitePeriod(layer, 560)
	case 'D':
		return SitePeriod(layer, 270)
	case 'E', 'F':
		return SitePeriod(layer, 100)
	}
	return math.NaN()
}

// Beside returns the classes one firmer and one softer than c, the likely alternatives to an
// assumed class; c itself at the ends. Type E of EN 1998-1 is no softer than D and has no
// neighbours.
func (s SoilStandard) Beside(c SiteClass) (firmer, softer SiteClass) {
	last := SiteClass('E')
	if s == SoilEN1998 || s == SoilNTC2018 {
		last = 'D'
	}
	if c < 'A' || c > last {
		return c, c
	}
	return max(c-1, 'A'), min(c+1, last)
}
