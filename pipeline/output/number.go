package output

import (
	"math"
	"strconv"
)

// pow10 holds the powers of ten that are exact in binary floating point.
var pow10 = [23]float64{1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11,
	1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// Round returns v rounded to digits significant digits, 1 to 12, as the number
// nearest to that decimal, so that its shortest decimal form has no more digits.
// A v that is not finite gives NaN, and a negative zero gives zero.
//
// With m = v 10^s an integer below 2^53 and 10^s exact (s up to 22), m/10^s is
// rounded once and is therefore the double nearest to the decimal (Clinger, "How
// to read floating point numbers accurately", PLDI 1990). Other magnitudes go
// through the decimal text.
func Round(v float64, digits int) float64 {
	if math.IsNaN(v - v) {
		return math.NaN()
	}
	if v == 0 {
		return 0
	}
	s := digits - 1 - int(math.Floor(math.Log10(math.Abs(v))))
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

// appendFloat appends the shortest decimal that reads back as v, without an
// exponent unless v is tiny or huge. It appends nothing for NaN.
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
