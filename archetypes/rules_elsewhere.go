package archetypes

import (
	"math"

	"plinth/hazard"
)

// taper returns c0 up to 0.45 s, c1 from 1.2 s and a straight line between: the
// form of NZSS 1900 chapter 8 and NZS 4203:1976, from memory.
func taper(c0, c1, t float64) float64 {
	const t0, t1 = 0.45, 1.2
	return c0 + (c1-c0)*min(max((t-t0)/(t1-t0), 0), 1)
}

// nzs1170 returns the horizontal design action coefficient Cd(T) of NZS 1170.5:2004 5.2.1.1 for
// site class C, R = 1 and no near fault, with ductility mu at period t in s. Without shaking it
// is 0.
func nzs1170(z, mu, t float64) float64 {
	site := hazard.NZS1170Site{Z: z, R: 1, Class: 'C', FaultDistance: math.Inf(1)}
	cd, err := site.DesignCoefficient(t, mu)
	if err != nil {
		return 0
	}
	return cd
}

// japan1950 returns the seismic coefficient of the Building Standard Law of 1950,
// c at 16 m and 0.01 more for every 4 m above, from memory. The allowable
// stresses of the time were at yield, so the level is that of strength.
func japan1950(c, h float64) float64 { return c + 0.01*math.Ceil(max(0, h-16)/4) }

// japan1981 returns the required ultimate base shear of the enforcement order of
// 1981, second phase, at the ground storey,
//
//	V/W = Z Rt Ds C0, C0 = 1
//
// on soil type 2. It is compared with a computed mechanism, so little overstrength remains.
func japan1981(z, ds, t float64) float64 {
	return ds * hazard.JapanShear(hazard.JapanSevere, z, hazard.JapanRt(hazard.JapanSoil2, t))
}

// italy1975 returns V/W = R (S - 2)/100 with the degree of seismicity S (12, 9 or
// 6) and R = 1 up to 0.8 s, 0.862/T^(2/3) above. Allowable-stress level.
func italy1975(s, t float64) float64 {
	r := 1.0
	if t > 0.8 {
		r = min(1, 0.862/math.Pow(t, 2.0/3))
	}
	return r * max(0, s-2) / 100
}

// turkey1975 returns V/W = C0 K S with S = 1/|0.8 + T - T0| at most 1 and T0 =
// 0.4 s. Allowable-stress level.
func turkey1975(c0, k, t float64) float64 { return c0 * k * min(1, 1/math.Abs(0.8+t-0.4)) }

// turkey1998 returns V/W = A0 S(T)/R, S = 2.5 up to TB = 0.4 s (soil Z2) and 2.5 (TB/T)^0.8
// above, at least 0.1 A0. The rise of S below TA is left out: the code lowers Ra there too, and
// their ratio stays near that of the plateau. Strength level.
func turkey1998(a0, inverseR, t float64) float64 {
	const tb = 0.4
	return max(a0*2.5*math.Pow(min(1, tb/t), 0.8)*inverseR, 0.1*a0)
}

// eurocode8 returns V/W = Sd(T) l of EN 1998-1 on ground B, type 1, with ag in g: the design
// spectrum of 3.2.2.5(4), and l = 0.85 if T <= 2 TC and the building has more than two storeys,
// else 1 (4.3.3.2.2(1)). Strength level. Without shaking it is 0.
func eurocode8(ag, q, t float64, storeys int) float64 {
	sd, err := hazard.Eurocode8Type1.Design('B', ag, q, t)
	if err != nil {
		return 0
	}
	if t <= 2*hazard.Eurocode8Type1.Ground['B'-'A'].TC && storeys > 2 {
		return 0.85 * sd
	}
	return sd
}
