package plan

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// numbers returns every key of a plan that takes a number or numbers.
func numbers(prefix string, v reflect.Value) (out []setting) {
	for _, s := range settings(prefix, v) {
		switch {
		case s.value.Kind() == reflect.Struct:
			out = append(out, numbers(s.key, s.value)...)
		case s.plainRange() != "":
			out = append(out, s)
		}
	}
	return out
}

// No number of a plan is without limit, and none beyond its limits is taken: not
// 1e308, whose products overflow, nor the largest whole number.
func TestEveryNumberHasLimits(t *testing.T) {
	keys := numbers("", reflect.ValueOf(Default()).Elem())
	require.Greater(t, len(keys), 100)
	for _, s := range keys {
		require.False(t, math.IsInf(s.min, 0) || math.IsInf(s.max, 0) || math.Abs(s.max) > ceiling, s.key)
		require.Less(t, s.min, s.max, s.key)
		value := "1e308"
		switch s.value.Kind() {
		case reflect.Int:
			value = "9223372036854775807"
		case reflect.Slice:
			value = "[1e308]"
		case reflect.Array:
			value = "[" + strings.TrimSuffix(strings.Repeat("1e308, ", s.value.Len()), ", ") + "]"
		}
		dot := strings.LastIndexByte(s.key, '.')
		doc := fmt.Sprintf("[%s]\n%s = %s\n", s.key[:dot], s.key[dot+1:], value)
		_, err := Parse("p.toml", []byte(doc))
		assert.ErrorContains(t, err, "p.toml:2:1: "+s.key, doc)
		assert.ErrorContains(t, err, fmt.Sprintf("out of range; write a number from %g to %g", s.min, s.max), doc)
	}
}
