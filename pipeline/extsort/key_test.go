package extsort

import (
	"bytes"
	"cmp"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// sign of a comparison of keys.
func compare(a, b []byte) int { return bytes.Compare(a, b) }

func TestKeysKeepOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := rapid.Float64().Draw(t, "x"), rapid.Float64().Draw(t, "y")
		if compare(AppendAscending(nil, x), AppendAscending(nil, y)) != cmp.Compare(x, y) {
			t.Fatalf("ascending %g %g", x, y)
		}
		if compare(AppendDescending(nil, x), AppendDescending(nil, y)) != cmp.Compare(y, x) {
			t.Fatalf("descending %g %g", x, y)
		}
		i, j := rapid.Int64().Draw(t, "i"), rapid.Int64().Draw(t, "j")
		if compare(AppendInt(nil, i), AppendInt(nil, j)) != cmp.Compare(i, j) {
			t.Fatalf("int %d %d", i, j)
		}
		// Two texts from a poor alphabet, then a number: the pair orders as a pair.
		text := rapid.StringOfN(rapid.RuneFrom([]rune{0, 1, 'a', 0xff}), 0, 6, -1)
		s, u := text.Draw(t, "s"), text.Draw(t, "u")
		want := cmp.Or(strings.Compare(s, u), cmp.Compare(i, j))
		if compare(AppendInt(AppendString(nil, s), i), AppendInt(AppendString(nil, u), j)) != want {
			t.Fatalf("text %q %d, %q %d", s, i, u, j)
		}
	})
}

func TestKeysOfSpecialNumbers(t *testing.T) {
	up := []float64{math.Inf(-1), -math.MaxFloat64, -1, -math.SmallestNonzeroFloat64, 0,
		math.SmallestNonzeroFloat64, 1, math.MaxFloat64, math.Inf(1), math.NaN()}
	assert.True(t, slices.IsSortedFunc(up, func(a, b float64) int {
		return compare(AppendAscending(nil, a), AppendAscending(nil, b))
	}))
	down := slices.Clone(up[:len(up)-1])
	slices.Reverse(down)
	down = append(down, math.NaN())
	assert.True(t, slices.IsSortedFunc(down, func(a, b float64) int {
		return compare(AppendDescending(nil, a), AppendDescending(nil, b))
	}))
	zero := math.Copysign(0, -1)
	assert.Equal(t, AppendAscending(nil, 0), AppendAscending(nil, zero))
	assert.Equal(t, AppendDescending(nil, 0), AppendDescending(nil, zero))
	assert.Negative(t, compare(AppendDescending(nil, math.Inf(-1)), AppendDescending(nil, math.NaN())))
}
