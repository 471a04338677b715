package pipeline

import (
	"math"
	"slices"
	"strings"
	"testing"

	"plinth/pipeline/plan"
)

// otherValues returns legal values of a key beside its present one.
func otherValues(t *testing.T, k plan.Key, now any) []any {
	if k.Choices != "" && k.Kind == "text" {
		var words []any
		for word := range strings.SplitSeq(k.Choices, ", ") {
			words = append(words, word)
		}
		return slices.DeleteFunc(words, func(v any) bool { return v == now })
	}
	switch now := now.(type) {
	case nil: // left to other keys
		if k.Kind == "number" {
			return anySlice(otherNumbers(k, math.NaN()))
		}
	case bool:
		return []any{!now}
	case float64:
		return anySlice(otherNumbers(k, now))
	case int:
		var out []any
		for _, x := range append(otherNumbers(k, float64(now)), float64(now+1), float64(now-1)) {
			if x := int(x); x != now && float64(x) >= k.Min && float64(x) <= k.Max {
				out = append(out, x)
			}
		}
		return out
	case [2]float64:
		return []any{
			[]any{now[0], otherNumbers(k, now[1])[0]}, []any{max(k.Min, now[0]/2), now[1]},
			[]any{min(k.Max, 1.1*now[0]), min(k.Max, 1.1*now[1])}, []any{0.9 * now[0], 0.9 * now[1]},
		}
	}
	t.Fatalf("%s: %T %v has no other value by itself; name one in keyTrials", k.Key, now, now)
	return nil
}

// otherNumbers returns numbers within the range of a key: twice and half its value, its
// bounds, and one more.
func otherNumbers(k plan.Key, now float64) []float64 {
	var out []float64
	for _, x := range []float64{2 * now, now / 2, 1.1 * now, k.Max, k.Min, 1, 10, 1000} {
		if x != now && !math.IsNaN(x) && !math.IsInf(x, 0) && x >= k.Min && x <= k.Max {
			out = append(out, x)
		}
	}
	return out
}

func anySlice(xs []float64) []any {
	out := make([]any, len(xs))
	for i, x := range xs {
		out[i] = x
	}
	return out
}
