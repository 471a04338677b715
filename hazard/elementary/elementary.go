// Package elementary has the exponential, the logarithm and the power for the innermost loops
// of a screening, which call them about a thousand times for each building. Each is within
// 2e-15 of the function of package math, in the range stated with it, at half the cost: a table
// replaces half of the polynomial (Tang 1989, ACM Transactions on Mathematical Software 15:144;
// 1990, 16:378).
package elementary

import "math"

// The tables: 2^(i/128), and 1/c, ln c and log2 c at the middle c of intervals of the mantissa
// from 11/16 to 11/8. The intervals around 1 have c = 1, so that the logarithm of a number near
// 1 keeps all its digits.
const (
	tableBits = 7
	tableSize = 1 << tableBits
	lowest    = 0x3fe6 << 48 // leading bits of 11/16
	shift     = 52 - tableBits
)

var (
	root [tableSize]float64
	part [tableSize]interval
)

type interval struct{ inverse, ln, log2 float64 }

func init() {
	for i := range root {
		root[i] = math.Exp2(float64(i) / tableSize)
	}
	for i := range part {
		from := math.Float64frombits(lowest + uint64(i)<<shift)
		to := math.Float64frombits(lowest + uint64(i+1)<<shift)
		c := (from + to) / 2
		if from <= 1 && 1 <= to {
			c = 1
		}
		part[i] = interval{1 / c, math.Log(c), math.Log2(c)}
	}
}

// split decomposes x = 2^k c (1 + r).
func split(x float64) (k float64, s *interval, r float64) {
	bits := math.Float64bits(x)
	above := bits - lowest
	s = &part[above>>shift%tableSize]
	m := math.Float64frombits(bits - above&(0xfff<<52))
	return float64(int64(above) >> 52), s, m*s.inverse - 1
}

// normal reports whether x is positive, finite and not subnormal.
func normal(x float64) bool { return x >= 0x1p-1022 && x <= math.MaxFloat64 }

// Log returns the natural logarithm of x. For x that is not a positive normal number it calls
// math.Log.
//
//	ln x = k ln 2 + ln c + ln(1 + r),  |r| <= 1/128
//
// The relative error is below 2e-15. The absolute error is below 2e-16 where |ln x| < 0.1,
// except within 1/256 of 1, where the relative bound holds again.
func Log(x float64) float64 {
	if !normal(x) {
		return math.Log(x)
	}
	k, s, r := split(x)
	return k*math.Ln2 + s.ln + beyond1(r)
}

// beyond1 returns ln(1 + r) for the r of split, by its series.
func beyond1(r float64) float64 {
	r2 := r * r
	return r + r2*((-1.0/2+r*(1.0/3))+r2*((-1.0/4+r*(1.0/5))+r2*(-1.0/6+r*(1.0/7))))
}

// Exp returns e^x. For |x| above 700 it calls math.Exp.
//
//	e^x = 2^k 2^(i/128) e^r,  |r| < ln 2/256
func Exp(x float64) float64 {
	if !(math.Abs(x) <= 700) {
		return math.Exp(x)
	}
	const (
		high = 0x1.62e42fefp-8 // ln 2/128 to 32 bits: its multiples are exact
		low  = math.Ln2/tableSize - high
	)
	z := x*(tableSize/math.Ln2) + rounder
	n := z - rounder
	return scaled(z, x-n*high-n*low)
}

// rounder rounds: rounder + z, |z| < 2^51, has the integer nearest to z in its lowest bits
// (Hacker's Delight, Warren 2012, 17-4, from memory).
const rounder = 0x1.8p52

// scaled returns 2^(n/128) e^r for z = n + rounder.
func scaled(z, r float64) float64 {
	n := math.Float64bits(z)
	t := root[n%tableSize]
	r2 := r * r
	p := r + r2*((1.0/2+r*(1.0/6))+r2*(1.0/24+r*(1.0/120)))
	return math.Float64frombits(math.Float64bits(t+t*p) + n>>tableBits<<52)
}

// Pow returns x^e for a positive normal x and |e log2 x| up to 1000, and calls math.Pow
// otherwise. The relative error grows with that product, to 1e-14 at 50.
func Pow(x, e float64) float64 {
	if !normal(x) {
		return math.Pow(x, e)
	}
	k, s, r := split(x)
	y := e * (k + s.log2 + beyond1(r)*math.Log2E)
	if !(math.Abs(y) <= 1000) {
		return math.Pow(x, e)
	}
	z := y*tableSize + rounder
	return scaled(z, (y-(z-rounder)*(1.0/tableSize))*math.Ln2)
}

// PowerLaw returns y at x on the power law through (xa, ya) and (xb, yb), all positive
// and xa not xb: a straight line in ln y and ln x.
//
//	y = ya (yb/ya)^(ln(x/xa)/ln(xb/xa))
func PowerLaw(x, xa, xb, ya, yb float64) float64 {
	return ya * Pow(yb/ya, Log(x/xa)/Log(xb/xa))
}
