package hazard

import "fmt"

// SiteClassASCE7 returns the site class of ASCE 7-16 Table 20.3-1 for the average
// shear wave velocity of the upper 30 m in m/s:
//
//	A > 1500 >= B > 760 >= C > 360 >= D >= 180 > E
//
// The bounds are the metric ones in use; the table has 5000, 2500, 1200 and 600 ft/s. Class E
// by a soft clay layer and class F do not follow from a velocity. It is an error if vs30 is not
// positive.
func SiteClassASCE7(vs30 float64) (SiteClass, error) {
	switch {
	case !(vs30 > 0):
		return 0, badVelocity(vs30)
	case vs30 > 1500:
		return 'A', nil
	case vs30 > 760:
		return 'B', nil
	case vs30 > 360:
		return 'C', nil
	case vs30 >= 180:
		return 'D', nil
	}
	return 'E', nil
}

// SiteClassEN1998 returns the ground type of EN 1998-1 Table 3.1 for the average
// shear wave velocity of the upper 30 m in m/s:
//
//	A > 800 >= B > 360 >= C >= 180 > D
//
// Type E, 5 to 20 m of type C or D over rock, and types S1 and S2 do not follow from a
// velocity. It is an error if vs30 is not positive.
func SiteClassEN1998(vs30 float64) (SiteClass, error) {
	switch {
	case !(vs30 > 0):
		return 0, badVelocity(vs30)
	case vs30 > 800:
		return 'A', nil
	case vs30 > 360:
		return 'B', nil
	case vs30 >= 180:
		return 'C', nil
	}
	return 'D', nil
}

// SiteClassNZS1170 returns the site subsoil class of NZS 1170.5 3.1.3 for the
// average shear wave velocity of the upper 30 m in m/s, the low-amplitude site
// period in s and the thickness in m of soil with a velocity under 150 m/s
// (from memory):
//
//	A strong rock   vs30 > 1500
//	B rock          vs30 > 360
//	E very soft     more than 10 m slower than 150 m/s
//	C shallow       site period <= 0.6 s
//	D deep or soft  site period >  0.6 s
//
// Classes A and B also require a compressive strength (50 and 1 MPa) and at most 3 m of softer
// cover, which a velocity does not show: a stiff gravel of more than 360 m/s is class C. It is
// an error if vs30 is not positive.
func SiteClassNZS1170(vs30, sitePeriod, soft float64) (SiteClass, error) {
	switch {
	case !(vs30 > 0):
		return 0, badVelocity(vs30)
	case soft > 10:
		return 'E', nil
	case vs30 > 1500:
		return 'A', nil
	case vs30 > 360:
		return 'B', nil
	case sitePeriod <= 0.6:
		return 'C', nil
	}
	return 'D', nil
}

func badVelocity(v float64) error {
	return fmt.Errorf("shear wave velocity %g m/s: it must be positive", v)
}

// SitePeriod returns the fundamental period in s of a uniform layer of thickness
// h in m and shear wave velocity vs in m/s over rock,
//
//	Ts = 4 h/vs
//
// (Kramer 1996, 7.2.1). Strong shaking lengthens it.
func SitePeriod(h, vs float64) float64 { return 4 * h / vs }

// The range of building period over site period in which resonance is flagged [judgement]. It
// is wide because both periods lengthen under strong shaking and neither is known to better
// than a quarter.
const (
	resonanceLow  = 0.7
	resonanceHigh = 1.3
)

// Resonant reports whether a building of period t in s may resonate with a soil deposit of
// period site in s: 0.7 <= t/site <= 1.3 [judgement]. It applies to the building as it stands
// and to the effective period of an isolated one. A site period of 0, that of rock, and an unknown
// one, NaN, resonate with nothing.
func Resonant(t, site float64) bool {
	return site > 0 && t >= resonanceLow*site && t <= resonanceHigh*site
}

// NearFault reports whether ASCE 7-16 11.4.1 counts a site as near a fault (from
// memory): within 15 km of the surface projection of an active fault that can
// produce a magnitude of 7 or larger, or within 10 km for 6 or larger. There,
// pulses raise long-period demand and damping reduces less; EN 1998-1 10.6 asks
// for site-specific spectra of isolated buildings of importance class IV within
// 15 km.
func NearFault(km, magnitude float64) bool {
	return magnitude >= 7 && km <= 15 || magnitude >= 6 && km <= 10
}
