package archetypes

import "math"

// ubc1943 returns the coefficient of Los Angeles 1943 and UBC 1949 to 1958,
//
//	C = c/(N + 4.5)
//
// with c = 0.60 in zone 3, 0.30 in zone 2, 0.15 in zone 1 and N the storeys above
// the one considered, at most 13. The base shear of a one-storey building has
// N = 0. Allowable-stress level.
func ubc1943(c float64, above int) float64 { return c / (float64(min(above, 13)) + 4.5) }

// ubc1961 returns V/W = Z K C with C = 0.05/T^(1/3), at most 0.10 (UBC 1961 to
// 1973, 2314(d)). T in s. Allowable-stress level.
func ubc1961(z, k, t float64) float64 { return z * k * min(0.10, 0.05/math.Cbrt(t)) }

// ubc1976 returns V/W = Z K C S with C = 1/(15 sqrt T) at most 0.12 and C S at most 0.14 (UBC
// 1976 to 1985, 2312(d)). S is 1.5 if the soil is not known. Allowable-stress level.
func ubc1976(z, k, s, t float64) float64 {
	c := min(0.12, 1/(15*math.Sqrt(t)))
	return z * k * min(0.14, c*s)
}

// ubc1988 returns V/W = Z C/Rw with C = 1.25 S/T^(2/3) at most 2.75 and C/Rw at
// least 0.075 (UBC 1988 to 1994). Allowable-stress level.
func ubc1988(z, rw, s, t float64) float64 {
	c := min(2.75, 1.25*s/math.Pow(t, 2.0/3))
	return z * max(0.075, c/rw)
}

// ubc1997 returns
//
//	V/W = Cv/(R T) <= 2.5 Ca/R, >= 0.11 Ca and 0.8 Zn/R
//
// with Zn = Z Nv in zone 4 and 0 elsewhere (UBC 1997, 1630.2.1). Strength level.
func ubc1997(ca, cv, zn, r, t float64) float64 {
	return max(min(cv/(r*t), 2.5*ca/r), 0.11*ca, 0.8*zn/r)
}

// asce7 returns the seismic response coefficient Cs of ASCE 7-16 12.8.1.1 with
// Ie = 1,
//
//	Cs = SDS/R
//	   <= SD1/(T R)        T <= TL
//	   <= SD1 TL/(T^2 R)   T > TL
//	   >= 0.044 SDS, 0.01 and, if S1 >= 0.6 g, 0.5 S1/R
//
// Accelerations in g, periods in s. Strength level.
func asce7(sds, sd1, s1, tl, r, t float64) float64 {
	top := sd1 / (t * r)
	if t > tl {
		top *= tl / t
	}
	cs := max(min(sds/r, top), 0.044*sds, 0.01)
	if s1 >= 0.6 {
		cs = max(cs, 0.5*s1/r)
	}
	return cs
}
