package hazard

import "math"

// Shaking says of a spectrum how long the ground shakes and whether it comes as a pulse: what
// damping is worth depends on it (Spectrum.Worth). The zero value is not known.
type Shaking struct {
	Magnitude   float64 // moment magnitude of the earthquakes that govern; 0 for not known
	Distance    float64 // km, to their rupture; 0 without a magnitude means nothing
	Duration    float64 // s, significant duration D5-95; 0 for not known
	PulsePeriod float64 // s, of a forward-directivity pulse; 0 for none
	PulseSpread float64 // standard deviation of ln of the pulse's period; 0 where it is stated
	PulseChance float64 // probability that the shaking has that pulse
}

// Known reports whether anything is known of the shaking.
func (s *Shaking) Known() bool { return *s != Shaking{} }

// The scenario of the records behind the damping coefficients of ASCE 7 (Ramirez et al. 2001,
// MCEER-00-0010, from memory: magnitudes above 6.5, 10 to 20 km, site classes C to D). Magnitude 7,
// the middle of the distances and the velocity between the two classes stand for them (judgement).
const (
	codeMagnitude = 7.0
	codeDistance  = 15.0  // km
	codeVs30      = 360.0 // m/s
)

// CodeDuration is the significant duration in s that the damping coefficients of codes assume:
// that of their records' scenario.
var CodeDuration = SignificantDuration(codeMagnitude, codeDistance, codeVs30)

// SignificantDuration returns the median D5-95 in s, the time between 5 and 95 % of the Arias
// intensity, of the average horizontal component of a shallow crustal earthquake.
//
//	ln D = -2.2393 + 0.9368 M + (1.5686 - 0.1953 M) ln sqrt(R2 + 2.5002) - 0.3478 ln Vs30
//
//	M     moment magnitude, 4.8 to 7.9
//	R     distance to the rupture, km, up to 100
//	Vs30  mean shear wave velocity of the upper 30 m, m/s
//
// Values outside are held at the ends. Bommer, Stafford and Alarcon 2009, Bulletin of the
// Seismological Society of America 99:3217, with a rupture that reaches the surface; the standard
// deviation of ln D is 0.46. Earthquakes of subduction zones and deep basins shake longer: state
// their duration.
func SignificantDuration(magnitude, km, vs30 float64) float64 {
	m := min(max(magnitude, 4.8), 7.9)
	r := math.Hypot(min(max(km, 0), 100), 2.5)
	return math.Exp(-2.2393 + 0.9368*m + (1.5686-0.1953*m)*math.Log(r) - 0.3478*math.Log(vs30))
}

// PulsePeriodOf returns the median period in s of a forward-directivity pulse.
//
//	ln Tp = -5.78 + 1.02 M
//
// Baker 2007, Bulletin of the Seismological Society of America 97:1486 (from memory), from
// magnitudes of 5.2 to 7.6, outside which it is held. The standard deviation of ln Tp is
// pulseSpread.
func PulsePeriodOf(magnitude float64) float64 {
	return math.Exp(-5.78 + 1.02*min(max(magnitude, 5.2), 7.6))
}

const pulseSpread = 0.55

// Ends of the relation of PulseChance.
const (
	pulseReach   = 30.0 // km
	pulseEpsilon = 1.0  // judgement: shaking of a design level near a fault is rarer than its median
)

// PulseChance returns the probability that shaking km from the rupture has a pulse.
//
//	p = 1/(1 + exp(-(0.891 - 0.188 R + 1.230 e)))    R <= 30 km, else 0
//
// Hayden, Bray and Abrahamson 2014, Journal of Geotechnical and Geoenvironmental Engineering
// 140(7) (from memory), from magnitudes of 6 and more; 0 below. e is the number of standard
// deviations above the median shaking, taken as 1.
func PulseChance(magnitude, km float64) float64 {
	if !(magnitude >= 6 && km <= pulseReach) {
		return 0
	}
	return 1 / (1 + math.Exp(-(0.891 - 0.188*max(km, 0) + 1.230*pulseEpsilon)))
}

// Complete fills what follows from magnitude and distance: the duration where it is not stated,
// on ground of vs30 in m/s, and the pulse where none is. A stated pulse is certain.
func (s *Shaking) Complete(vs30 float64) {
	if s.PulsePeriod > 0 && s.PulseChance == 0 {
		s.PulseChance = 1
	}
	if !(s.Magnitude > 0) {
		return
	}
	if s.Duration == 0 {
		s.Duration = SignificantDuration(s.Magnitude, s.Distance, vs30)
	}
	if s.PulsePeriod == 0 {
		s.PulsePeriod, s.PulseSpread = PulsePeriodOf(s.Magnitude), pulseSpread
		s.PulseChance = PulseChance(s.Magnitude, s.Distance)
	}
	if s.PulseChance == 0 {
		s.PulsePeriod, s.PulseSpread = 0, 0
	}
}

// TypicalVs30 returns a shear wave velocity in m/s for a class of ASCE 7-16 Table 20.3-1: the middle
// of its range in logarithms, its end where the range has only one; that between classes C and D for
// an unknown class.
func TypicalVs30(c SiteClass) float64 {
	switch c {
	case 'A':
		return 1500
	case 'B':
		return math.Sqrt(760 * 1500)
	case 'C':
		return math.Sqrt(360 * 760)
	case 'D':
		return math.Sqrt(180 * 360)
	case 'E', 'F':
		return 180
	}
	return codeVs30
}
