package output

import (
	"math"
	"strconv"
)

// pow10 holds the powers of ten that a float64 holds exactly.
var pow10 = [23]float64{1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11,
	1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// Round returns the float64 nearest to v rounded to digits significant digits, 1 to 12. The
// shortest decimal form of the result has no more digits than that. A v that is not finite gives
// NaN, and a negative zero gives zero.
//
// Let m = v 10^s be an integer below 2^53 and 10^s be exact (s up to 22). Then m/10^s is rounded
// once and is the float64 nearest to the decimal (Clinger, "How to read floating point numbers
// accurately", PLDI 1990). Other magnitudes go through the decimal text.
func Round(v float64, digits int) float64 {
	if math.IsNaN(v - v) {
		return math.NaN()
	}
	if v == 0 {
		return 0
	}
	s := digits - 1 - magnitude(math.Abs(v))
	switch {
	case s >= 0 && s < len(pow10):
		return math.Round(v*pow10[s]) / pow10[s]
	case s < 0 && -s < len(pow10):
		return math.Round(v/pow10[-s]) * pow10[-s]
	}
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', digits-1, 64), 64)
	if err != nil { // rounded up past the largest number
		return math.NaN()
	}
	return r
}

// magnitude returns the power of ten of the first significant digit of a > 0.
func magnitude(a float64) int {
	e := int(math.Float64bits(a)>>52) - 1022 // 2^(e-1) <= a < 2^e, for all but the least numbers
	k := (e-1)*78913>>18 + 1                 // 78913/2^18 is log10(2) to 1e-6: k is floor(log10 a) or one more
	if k < -len(pow10)+1 || k >= len(pow10) {
		return int(math.Floor(math.Log10(a)))
	}
	if a < powers[k+len(pow10)-1] {
		k--
	}
	return k
}

// powers holds the powers of ten from -22 to 22. Those below zero are one over a power.
var powers = func() (p [2*len(pow10) - 1]float64) {
	for i, v := range pow10 {
		p[len(pow10)-1-i] = 1 / v
	}
	copy(p[len(pow10)-1:], pow10[:])
	return p
}()

// appendRounded appends v rounded to digits significant digits. The result is that of
// appendFloat(b, Round(v, digits)), but it is faster: the rounded integer is written with the point
// in its place, and no shortest decimal is searched.
func appendRounded(b []byte, v float64, digits int) []byte {
	a := math.Abs(v)
	if !(a > 2e-7 && a < 9e14) { // in between neither needs an exponent
		return appendFloat(b, Round(v, digits))
	}
	s := digits - 1 - magnitude(a) // decimals
	var m uint64                   // a 10^s
	if s >= 0 {
		m = uint64(math.Round(a * pow10[s]))
	} else {
		m = uint64(math.Round(a / pow10[-s]))
	}
	for ; s > 0 && m%10 == 0; s-- {
		m /= 10
	}
	if v < 0 {
		b = append(b, '-')
	}
	if s <= 0 {
		b = strconv.AppendUint(b, m, 10)
		return append(b, zeros[:-s]...)
	}
	whole := m / uint64(pow10[s])
	b = append(strconv.AppendUint(b, whole, 10), '.')
	rest := m - whole*uint64(pow10[s])
	if rest < uint64(pow10[s-1]) { // leading zeros of the decimals
		start := len(b)
		b = strconv.AppendUint(b, rest+uint64(pow10[s]), 10)
		copy(b[start:], b[start+1:])
		return b[:len(b)-1]
	}
	return strconv.AppendUint(b, rest, 10)
}

const zeros = "000000000000000"

// appendFloat appends the shortest decimal that reads back as v. It has no exponent unless v is
// tiny or huge. It appends nothing for NaN.
func appendFloat(b []byte, v float64) []byte {
	if math.IsNaN(v) {
		return b
	}
	format := byte('f')
	if a := math.Abs(v); a != 0 && (a < 1e-7 || a >= 1e15) {
		format = 'e'
	}
	return strconv.AppendFloat(b, v, format, -1, 64)
}
