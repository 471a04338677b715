package ranking

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestChoose(t *testing.T) {
	none := Option{Measure: NoMeasure}
	for name, c := range map[string]struct {
		options        []Option
		best, runnerUp string
		margin         float64
		ties           int
	}{
		"clear winner":          {[]Option{none, {"viscous", 50, 80, false}, {"slider", 90, 150, false}}, "slider", "viscous", 40, 0},
		"none is best":          {[]Option{{"viscous", -20, 30, false}, none}, "none", "viscous", 20, 0},
		"barely pays":           {[]Option{{"viscous", 5, 105, false}, none}, "viscous", "none", 5, 1},
		"barely does not pay":   {[]Option{{"viscous", -5, 105, false}, none}, "none", "viscous", 5, 1},
		"tie at the resolution": {[]Option{{"viscous", 90, 90, false}, {"slider", 100, 100, false}, none}, "slider", "viscous", 10, 1},
		"just off it":           {[]Option{{"viscous", 89.9, 89.9, false}, {"slider", 100, 100, false}, none}, "slider", "viscous", 10.1, 0},
		"equal scores by slug":  {[]Option{{"viscous", 7, 7, false}, {"slider", 7, 7, false}, none}, "slider", "viscous", 0, 1},
		"barred is not chosen":  {[]Option{{"slider", 100, 100, true}, {"viscous", 1, 5, false}, none}, "viscous", "none", 1, 0},
		"no score is no choice": {[]Option{{"slider", math.NaN(), math.NaN(), false}, none}, "none", "", math.NaN(), 0},
		"nothing to choose":     {[]Option{{"slider", 1, 1, true}}, "", "", math.NaN(), 0},
	} {
		t.Run(name, func(t *testing.T) {
			var got Choice
			Choose(c.options, &got)
			word := func(i int) string {
				if i < 0 {
					return ""
				}
				return c.options[i].Measure
			}
			assert.Equal(t, c.best, word(got.Best))
			assert.Equal(t, c.runnerUp, word(got.RunnerUp))
			assert.Equal(t, c.ties, got.Ties)
			assert.Equal(t, c.ties > 0, got.Tied())
			if math.IsNaN(c.margin) {
				assert.True(t, math.IsNaN(got.Margin))
			} else {
				assert.InDelta(t, c.margin, got.Margin, 1e-9)
			}
			assert.Len(t, got.Order, len(c.options))
		})
	}
}

// TestChooseForgetsArrival: whatever order the options come in, the same follows.
func TestChooseForgetsArrival(t *testing.T) {
	options := []Option{{"none", 0, 0, false}, {"slider", 12, 40, false}, {"viscous", 12, 20, false},
		{"yielding", math.NaN(), 1, false}, {"tuned-mass", 50, 60, true}, {"strengthen", 11, 12, false}}
	slugs := func(o []Option) (out []string) {
		var c Choice
		Choose(o, &c)
		for _, i := range c.Order {
			out = append(out, o[i].Measure)
		}
		return out
	}
	want := []string{"slider", "viscous", "strengthen", "none", "tuned-mass", "yielding"}
	rapid.Check(t, func(t *rapid.T) {
		shuffled := rapid.Permutation(options).Draw(t, "options")
		if got := slugs(shuffled); !assert.ObjectsAreEqual(want, got) {
			t.Fatalf("want %v, got %v", want, got)
		}
	})
}

func TestChooseAllocatesNothing(t *testing.T) {
	options := []Option{{"none", 0, 0, false}, {"slider", 12, 40, false}, {"viscous", 15, 20, false}}
	var c Choice
	Choose(options, &c)
	assert.Zero(t, testing.AllocsPerRun(20, func() { Choose(options, &c) }))
}

func TestRanker(t *testing.T) {
	var r Ranker
	var got []Rank
	// 91 is within 10 % of 100; 85 is within 10 % of 91 but not of the leader 100.
	for _, s := range []float64{100, 91, 91, 85, 50, 0, 0, -1} {
		got = append(got, r.Next(s, math.Abs(s)))
	}
	nan := math.NaN()
	got = append(got, r.Next(nan, nan), r.Next(nan, nan))
	assert.Equal(t, []Rank{{1, 1, 1}, {2, 2, 1}, {3, 2, 1}, {4, 3, 2}, {5, 4, 3}, {6, 5, 4}, {7, 5, 4},
		{8, 6, 5}, {9, 7, 6}, {10, 7, 6}}, got)
	assert.Panics(t, func() { r.Next(3, 3) }, "a number after NaN")
	r = Ranker{}
	r.Next(1, 1)
	assert.Panics(t, func() { r.Next(2, 2) })
}
