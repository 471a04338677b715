package output

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestRound compares with strconv, the Go library's correctly rounded decimal
// conversion. It may differ only where v is halfway between two decimals, to
// within 0.01 of their distance: v times a power of ten, at most 10^12, is in
// error by half a unit in the last place, 6e-5, and a tie goes away from zero
// here and to even there.
func TestRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		digits := rapid.IntRange(1, 12).Draw(t, "digits")
		v := rapid.Float64().Draw(t, "v")
		if math.IsInf(v, 0) || math.IsNaN(v) {
			t.Skip("not finite")
		}
		r := Round(v, digits)
		want, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', digits-1, 64), 64)
		if err != nil {
			require.True(t, math.IsNaN(r))
			return
		}
		if r != want {
			unit := math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-float64(digits-1))
			tie := math.Abs(math.Abs(v-want)/unit - 0.5)
			require.Less(t, tie, 0.01, "%g to %d digits: %g, strconv %g", v, digits, r, want)
		}
		require.Equal(t, r, Round(r, digits), "twice is once")

		text := string(appendFloat(nil, r))
		require.Equal(t, text, string(appendRounded(nil, v, digits)), "%g to %d digits", v, digits)
		back, err := strconv.ParseFloat(text, 64)
		require.NoError(t, err)
		require.Equal(t, r, back, "text reads back")
		mantissa, _, _ := strings.Cut(text, "e")
		significant := strings.Trim(strings.Replace(strings.TrimPrefix(mantissa, "-"), ".", "", 1), "0")
		require.LessOrEqual(t, len(significant), digits, "%s has more than %d digits", text, digits)
	})
}

func TestNumbersAsText(t *testing.T) {
	for _, test := range []struct {
		v    float64
		want string
	}{
		{0, "0"}, {math.Copysign(0, -1), "0"}, {1, "1"}, {-1.5, "-1.5"}, {0.1 + 0.2, "0.3"},
		{1234567, "1234570"}, {999999.6, "1000000"}, {123456.5, "123457"}, {1e9, "1000000000"}, {2.5e14, "250000000000000"},
		{1e15, "1e+15"}, {0.000123456789, "0.000123457"}, {1.23456789e-9, "1.23457e-09"}, {math.MaxFloat64, "1.79769e+308"},
		{5e-324, "5e-324"}, {math.NaN(), ""}, {math.Inf(1), ""}, {math.Inf(-1), ""},
	} {
		require.Equal(t, test.want, string(appendFloat(nil, Round(test.v, DefaultDigits))), "%g", test.v)
		require.Equal(t, test.want, string(appendRounded(nil, test.v, DefaultDigits)), "%g", test.v)
	}
}

// TestRoundedText draws where rapid's floats are rare: magnitudes of results, and
// next to powers of ten.
func TestRoundedText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		digits := rapid.IntRange(1, 12).Draw(t, "digits")
		power := math.Pow(10, float64(rapid.IntRange(-9, 17).Draw(t, "power")))
		near := rapid.SampledFrom([]float64{0, -1e-16, 1e-16, -1e-9, 1e-9, -1e-5, 1e-5}).Draw(t, "near")
		v := power * (rapid.Float64Range(-10, 10).Draw(t, "v"))
		for _, v := range []float64{v, power * (1 + near), math.Nextafter(power, 0)} {
			require.Equal(t, string(appendFloat(nil, Round(v, digits))), string(appendRounded(nil, v, digits)), "%g to %d digits", v, digits)
		}
	})
}
