package archetypes

import "math"

// taper returns c0 up to 0.45 s, c1 from 1.2 s and a straight line between: the
// form of NZSS 1900 chapter 8 and NZS 4203:1976, from memory.
func taper(c0, c1, t float64) float64 {
	const t0, t1 = 0.45, 1.2
	return c0 + (c1-c0)*min(max((t-t0)/(t1-t0), 0), 1)
}

// nzs1170 returns the horizontal design action coefficient of NZS 1170.5:2004
// 5.2.1.1 for site class C, R = 1 and N = 1,
//
//	Cd = Ch(T) Z Sp/k >= Z/20 + 0.02 and 0.03
//	Ch = 2.36 up to 0.4 s, 2 (0.5/T)^0.75, 1.32/T from 1.5 s, 3.96/T^2 from 3 s
//	k  = mu for T >= 0.7 s, 1 + (mu - 1) T/0.7 below
//	Sp = 1.3 - 0.3 mu for mu < 2, 0.7 above
//
// with T at least 0.4 s. Table 3.1 prints Ch to two decimals; the formula is that
// of its commentary.
func nzs1170(z, mu, t float64) float64 {
	t = max(t, 0.4)
	ch := 2 * math.Pow(0.5/t, 0.75)
	switch {
	case t > 3:
		ch = 3.96 / (t * t)
	case t > 1.5:
		ch = 1.32 / t
	}
	k := 1 + (mu-1)*min(1, t/0.7)
	sp := max(0.7, 1.3-0.3*mu)
	return max(ch*z*sp/k, z/20+0.02, 0.03)
}

// japan1950 returns the seismic coefficient of the Building Standard Law of 1950,
// c at 16 m and 0.01 more for every 4 m above, from memory. The allowable
// stresses of the time were at yield, so the level is that of strength.
func japan1950(c, h float64) float64 { return c + 0.01*math.Ceil(max(0, h-16)/4) }

// japan1981 returns the required ultimate base shear of the enforcement order of
// 1981, second phase, at the ground storey,
//
//	V/W = Z Rt Ds C0, C0 = 1
//	Rt  = 1 for T < Tc, 1 - 0.2 (T/Tc - 1)^2 to 2 Tc, 1.6 Tc/T beyond
//
// with Tc = 0.6 s (soil 2). It is compared with a computed mechanism, so little
// overstrength comes on top.
func japan1981(z, ds, t float64) float64 { return z * ds * japanRt(t, 0.6) }

func japanRt(t, tc float64) float64 {
	switch {
	case t < tc:
		return 1
	case t < 2*tc:
		return 1 - 0.2*(t/tc-1)*(t/tc-1)
	}
	return 1.6 * tc / t
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

// turkey1998 returns V/W = A0 S(T)/R, S = 2.5 up to TB = 0.4 s (soil Z2) and
// 2.5 (TB/T)^0.8 above, at least 0.1 A0. The rise of S below TA is left out: the
// code lowers Ra there too and their ratio stays near the plateau's. Strength level.
func turkey1998(a0, inverseR, t float64) float64 {
	const tb = 0.4
	return max(a0*2.5*math.Pow(min(1, tb/t), 0.8)*inverseR, 0.1*a0)
}

// eurocode8 returns V/W = Sd(T) l of EN 1998-1 on ground B, type 1, with ag in g,
//
//	Sd = ag S (2/3 + T/TB (2.5/q - 2/3))   T < TB
//	     ag S 2.5/q                        TB to TC
//	     ag S 2.5/q TC/T    >= 0.2 ag      TC to TD
//	     ag S 2.5/q TC TD/T^2 >= 0.2 ag    beyond
//
// (3.2.2.5(4)) and l = 0.85 if T <= 2 TC and the building has more than two
// storeys, else 1 (4.3.3.2.2(1)). Strength level.
func eurocode8(ag, q, t float64, storeys int) float64 {
	const s, tb, tc, td = 1.2, 0.15, 0.5, 2.0 // Table 3.2, ground B
	sd := ag * s * 2.5 / q
	switch {
	case t < tb:
		sd = ag * s * (2.0/3 + t/tb*(2.5/q-2.0/3))
	case t > td:
		sd = max(sd*tc*td/(t*t), 0.2*ag)
	case t > tc:
		sd = max(sd*tc/t, 0.2*ag)
	}
	if t <= 2*tc && storeys > 2 {
		return 0.85 * sd
	}
	return sd
}
