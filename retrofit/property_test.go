package retrofit

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Any building: the verdict is the gravest finding, the reason has words, a
// measure that is not barred has finite demand at every level, a positive cost
// and sizes that are numbers, and its displacement fits the gap.
func TestAnyBuilding(t *testing.T) {
	measures := every()
	var w Work
	var o Outcome
	rapid.Check(t, func(r *rapid.T) {
		c := sketch{
			storeys:  rapid.IntRange(1, 20).Draw(r, "storeys"),
			period:   rapid.Float64Range(0.05, 3).Draw(r, "period"),
			strength: rapid.Float64Range(0.03, 1.5).Draw(r, "strength"),
			ag:       rapid.Float64Range(0.02, 0.8).Draw(r, "ag"),
		}.build(t)
		c.Facts.Gap = rapid.SampledFrom([]float64{0, 0.1, 0.3, 0.6, math.NaN()}).Draw(r, "gap")
		c.Facts.Contents = rapid.SampledFrom([]Contents{OrdinaryContents, SensitiveContents,
			FragileContents}).Draw(r, "contents")
		for _, m := range measures {
			m.Evaluate(&w, c, &o)
			sane(r, c, &o)
		}
	})
}

func sane(t *rapid.T, c *Case, o *Outcome) {
	slug, worst := o.Measure.Slug(), Clear
	for _, f := range o.Findings {
		worst = max(worst, f.Verdict)
	}
	if worst != o.Verdict || len(o.Reason()) < 20 {
		t.Fatalf("%s: verdict %v of findings up to %v: %q", slug, o.Verdict, worst, o.Reason())
	}
	if len(o.Levels) == 0 && o.Verdict != Bar {
		t.Fatalf("%s: %v without demand", slug, o.Verdict)
	}
	for i := range o.Levels {
		l := &o.Levels[i]
		for _, v := range []float64{l.DriftRatio, l.PeakAccel, l.BaseShear, l.Displacement, l.Roof} {
			if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
				t.Fatalf("%s level %d: %+v", slug, i, *l)
			}
		}
	}
	if slug != "none" && len(o.Levels) > 0 && !(o.Cost.Likely > 0 && o.Weeks > 0) {
		t.Fatalf("%s: cost %+v, %g weeks", slug, o.Cost, o.Weeks)
	}
	for _, q := range o.Sized {
		if math.IsNaN(q.Value) || math.IsInf(q.Value, 0) || q.Value < 0 {
			t.Fatalf("%s: %s is %g", slug, q.Name, q.Value)
		}
		if q.Name == "total displacement" && o.Verdict != Bar && q.Value > c.Facts.Gap {
			t.Fatalf("%s: moves %g in a gap of %g", slug, q.Value, c.Facts.Gap)
		}
	}
}
