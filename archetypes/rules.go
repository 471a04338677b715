package archetypes

import (
	"math"

	"plinth/hazard"
)

// A rule gives the design base-shear coefficient V/W of one code, with an
// importance factor of 1. Its parameters come from the table of eras.
type rule struct {
	name   string
	text   string // the formula in plain text
	source string // document and clause
	params []string
	fn     func(p [maxParams]float64, d design) float64
	site   func(design) bool // whether the site values it needs are known; nil if it needs none
}

const maxParams = 4

// design holds the inputs of a rule. Heights and widths are in m, accelerations in g.
type design struct {
	traits  *SystemTraits
	class   Importance
	storeys int
	height  float64
	width   float64 // plan dimension along the shaking

	sds, sd1, s1, tl float64 // ASCE 7 design values and transition, NaN unknown
	pga              float64 // design peak ground acceleration on rock, about 475 years, NaN unknown
}

// site returns v, or the zone's value if v is unknown.
func site(v, zone float64) float64 {
	if math.IsNaN(v) {
		return zone
	}
	return v
}

// hasASCE7 and hasPGA report whether the site's own values are known.
func (d design) hasASCE7() bool { return !math.IsNaN(d.sds + d.sd1 + d.s1) }
func (d design) hasPGA() bool   { return !math.IsNaN(d.pga) }

var rules = [...]rule{
	{"none", "V/W = 0", "no lateral design", nil,
		func([maxParams]float64, design) float64 { return 0 }, nil},
	{"flat", "V/W = c", "one coefficient for every building", []string{"c"},
		func(p [maxParams]float64, d design) float64 { return p[0] }, nil},
	{"ubc-1943", "V/W = c/(N + 4.5), N = storeys above the one considered (N - 1 at the base) <= 13",
		"Los Angeles 1943, UBC 1949 to 1958", []string{"c"},
		func(p [maxParams]float64, d design) float64 { return ubc1943(p[0], d.storeys-1) }, nil},
	{"ubc-1961", "V/W = Z K C, C = 0.05/T^(1/3) <= 0.10", "UBC 1961 to 1973, 2314", []string{"z"},
		func(p [maxParams]float64, d design) float64 {
			return ubc1961(p[0], d.traits.UBCK, d.periodUBC1961())
		}, nil},
	{"ubc-1976", "V/W = Z K C S, C = 1/(15 sqrt T) <= 0.12, C S <= 0.14, K = kmf for moment frames",
		"UBC 1976 to 1985, 2312", []string{"z", "s", "kmf"},
		func(p [maxParams]float64, d design) float64 {
			k := d.traits.UBCK
			if d.traits.MomentFrame > 0 {
				k = p[2]
			}
			return ubc1976(p[0], k, p[1], d.periodUBC1961())
		}, nil},
	{"ubc-1988", "V/W = Z C/Rw, C = 1.25 S/T^(2/3) <= 2.75, C/Rw >= 0.075",
		"UBC 1988 to 1994, 2334 (1994: 1628)", []string{"z", "s"},
		func(p [maxParams]float64, d design) float64 {
			return ubc1988(p[0], d.traits.UBCRw, p[1], d.periodASCE7())
		}, nil},
	{"ubc-1997", "V/W = Cv/(R T) <= 2.5 Ca/R, >= 0.11 Ca and 0.8 Zn/R", "UBC 1997, 1630.2",
		[]string{"ca", "cv", "zn"},
		func(p [maxParams]float64, d design) float64 {
			return ubc1997(p[0], p[1], p[2], d.traits.UBC97R, d.periodASCE7())
		}, nil},
	{"asce-7", "V/W = SDS/R <= SD1/(T R), SD1 TL/(T^2 R) for T > TL; >= 0.044 SDS, 0.01 and, if S1 >= 0.6, " +
		"0.5 S1/R", "ASCE 7-16 12.8.1.1", []string{"sds", "sd1", "s1", "tl"},
		func(p [maxParams]float64, d design) float64 {
			return asce7(site(d.sds, p[0]), site(d.sd1, p[1]), site(d.s1, p[2]), site(d.tl, p[3]),
				d.traits.ASCE7R, d.periodASCE7())
		}, design.hasASCE7},
	{"taper", "V/W = F c0 for T <= 0.45 s, F c1 for T >= 1.2 s, linear between; F = S M by system if m = " +
		"1, else 1", "NZSS 1900 chapter 8 (1965), NZS 4203:1976 3.4.2, from memory",
		[]string{"c0", "c1", "m"},
		func(p [maxParams]float64, d design) float64 {
			c := taper(p[0], p[1], d.periodASCE7())
			if p[2] == 1 {
				c *= d.traits.NZMaterial
			}
			return c
		}, nil},
	{"nzs-1170", "V/W = Ch(T) Z Sp/k >= Z/20 + 0.02 and 0.03; class C, R = 1, N = 1",
		"NZS 1170.5:2004 5.2.1.1", []string{"z"},
		func(p [maxParams]float64, d design) float64 {
			return nzs1170(site(d.pga, p[0]), d.traits.NZDuctility, d.periodASCE7())
		}, design.hasPGA},
	{"japan-1950", "V/W = c + 0.01 for every 4 m above 16 m",
		"Building Standard Law 1950, enforcement order 88", []string{"c"},
		func(p [maxParams]float64, d design) float64 { return japan1950(p[0], d.height) }, nil},
	{"japan-1981", "V/W = Z Rt Ds C0, C0 = 1.0, T = h(0.02 + 0.01 a), Tc = 0.6 s",
		"Building Standard Law enforcement order 1981, 82-3 and 88", []string{"z"},
		func(p [maxParams]float64, d design) float64 {
			return japan1981(p[0], d.traits.JapanDs, d.periodJapan())
		}, nil},
	{"italy-1975", "V/W = C R, C = (S - 2)/100, R = 1 for T <= 0.8 s, 0.862/T^(2/3) above",
		"DM 3 March 1975, C.6.1, R from memory", []string{"s"},
		func(p [maxParams]float64, d design) float64 { return italy1975(p[0], d.periodEurocode()) }, nil},
	{"turkey-1975", "V/W = C0 K S, S = 1/|0.8 + T - T0| <= 1; K from UBC, T0 = 0.4 s",
		"Turkish code 1975, from memory", []string{"c0"},
		func(p [maxParams]float64, d design) float64 {
			return turkey1975(p[0], d.traits.UBCK, d.periodASCE7())
		}, nil},
	{"turkey-1998", "V/W = A0 S(T)/R, S = 2.5 up to 0.4 s, 2.5 (0.4/T)^0.8 above; >= 0.1 A0; R taken as " +
		"q/qr, q of EN 1998-1", "Turkish code 1998, from memory", []string{"a0", "qr"},
		func(p [maxParams]float64, d design) float64 {
			return turkey1998(p[0], p[1]/d.traits.EurocodeQ, d.periodASCE7())
		}, nil},
	{"eurocode-8", "V/W = Sd(T) l, ground B type 1 (S = 1.2, TB = 0.15, TC = 0.5, TD = 2 s), l = 0.85 if T " +
		"<= 2 TC and more than 2 storeys", "EN 1998-1 3.2.2.5(4) and 4.3.3.2.2(1)", []string{"ag"},
		func(p [maxParams]float64, d design) float64 {
			return eurocode8(site(d.pga, p[0]), d.traits.EurocodeQ, d.periodEurocode(), d.storeys)
		}, design.hasPGA},
}

func ruleNamed(name string) *rule {
	for i := range rules {
		if rules[i].name == name {
			return &rules[i]
		}
	}
	return nil
}

func ruleNames() []string {
	out := make([]string, len(rules))
	for i := range rules {
		out[i] = rules[i].name
	}
	return out
}

// periodASCE7 returns Ta = Ct hn^x (ASCE 7-16 12.8.2.1), which UBC 1988 to 1997
// print in feet with the same constants.
func (d design) periodASCE7() float64 { return d.traits.CodePeriod.At(d.height) }

// periodUBC1961 returns the period of UBC 1961 to 1985,
//
//	T = 0.1 N for a moment frame, 0.05 h/sqrt(D) otherwise
//
// with h and D in ft (2314(d)1; 2312(d) in 1976).
func (d design) periodUBC1961() float64 {
	if d.traits.MomentFrame > 0 {
		return 0.1 * float64(d.storeys)
	}
	return 0.05 * (d.height / foot) / math.Sqrt(d.width/foot)
}

// periodEurocode returns T1 = Ct H^0.75 (EN 1998-1 4.3.3.2.2(3), for H <= 40 m;
// used above too).
func (d design) periodEurocode() float64 { return d.traits.EurocodePeriod * math.Pow(d.height, 0.75) }

// periodJapan returns the design period of Notification 1793 of 1980.
func (d design) periodJapan() float64 { return hazard.JapanPeriod(d.height, d.traits.SteelShare) }
