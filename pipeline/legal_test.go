package pipeline

import (
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/pipeline/confidence"
	"plinth/pipeline/inventory"
	"plinth/pipeline/plan"
	"plinth/pipeline/sample"
	"plinth/retrofit"
	"plinth/retrofit/consequence"
	"plinth/retrofit/demand"
)

// Every legal plan, building and hazard, the extremes among them, ends in numbers: what
// is not a number has a status or a verdict that says so, and nothing panics.
func TestLegalExtremesEndInNumbers(t *testing.T) {
	p, err := plan.Load(filepath.Join(town(t, 1), sample.PlanFile))
	require.NoError(t, err)
	base, err := Open(p)
	require.NoError(t, err)
	cases := 1000
	if testing.Short() {
		cases = 50
	}
	p.Confirm.Records, p.Confirm.Measures = 2, 8
	suites, err := base.openSuites()
	require.NoError(t, err)
	assessed, histories := 0, 0
	for i := range cases {
		rt := &lot{TB: t, r: rand.New(rand.NewPCG(1, uint64(i))), number: i}
		r := legalRun(rt, base)
		b := legalBuilding(rt, r)
		if b == nil {
			continue // a reject of the register
		}
		a := r.NewAssessment()
		if err := a.Assess(b); err != nil {
			require.Nil(rt, failure(err), "%v", err)
			continue // the method does not reach so far, and says so
		}
		requireNumbers(rt, a)
		out := Outlets{nowhere{}, nowhere{}, nowhere{}, nowhere{}}
		w := r.rowWriter("buildings.csv", out, new(counts))
		require.NoError(rt, w.visit(b))
		require.EqualValues(rt, 1, w.counts.nOut.Load(), "%s: %s", w.refused.Rule, w.refused.RawValue)
		set := r.drawing()
		sampler := sampler{run: r, set: &set, base: a, responder: r.newResponder()}
		sampler.draw = confidence.NewSampler(confidence.NewDraws(set))
		require.NoError(rt, sampler.sampled(b))
		seeker := seeker{run: r, base: a, then: r.NewAssessment()}
		require.NoError(rt, seeker.seek(b))
		if assessed++; assessed%40 == 0 { // time histories take a thousand times as long
			histories += requireHistories(rt, r, b, suites)
		}
	}
	require.Greater(t, assessed, cases/3)
	require.Greater(t, histories, cases/100)
}

// requireNumbers checks what was computed of a building.
func requireNumbers(t *lot, a *Assessment) {
	requireResponses(t, "as it stands", a.AsIs)
	requireAnnual(t, "as it stands", a.Before, a.Building)
	for i := range a.Options {
		o := &a.Options[i]
		slug := o.Measure.Slug()
		if !o.Feasible() {
			require.Equal(t, retrofit.Bar, o.Verdict, slug)
			continue
		}
		requireResponses(t, slug, o.Levels)
		requireAnnual(t, slug, o.After, a.Building)
		requireFinite(t, slug+": cost", o.Cost)
	}
}

// requireResponses checks that levels are finite and not negative, or not applicable.
func requireResponses(t *lot, slug string, levels []demand.Response) {
	for i := range levels {
		l := &levels[i]
		if l.Status&demand.NotApplicable != 0 {
			continue
		}
		values := []float64{l.Roof, l.DriftRatio, l.BaseAccel, l.PeakAccel, l.BaseShear, l.Displacement}
		values = append(values, l.Period, l.Damping, l.Ductility)
		for _, x := range slices.Concat(values, l.Drift, l.Accel) {
			require.True(t, x >= 0 && x <= math.MaxFloat64, "%s, level %d: %+v", slug, i, *l)
		}
	}
}

// requireHistories checks that a building and each of its measures go through time
// histories, or have a status that says why not, and returns how many structures did.
func requireHistories(t *lot, r *Run, b *inventory.Building, suites suiteMaker) (rows int) {
	w := confirmer{run: r, a: r.NewAssessment(), suites: suites}
	c, err := w.histories(&ranked{1, *b})
	require.Nil(t, failure(err), "%v", err)
	for i := range c.rows {
		row := &c.rows[i]
		said := row.Status != "" || row.Collapsed > 0
		number := row.DriftHistory >= 0 && row.DriftHistory <= math.MaxFloat64
		require.True(t, said || number, "%s: %+v", row.Measure, row)
	}
	return len(c.rows)
}

// requireAnnual checks annual values, those of money only where the value of the building
// is known.
func requireAnnual(t *lot, what string, l consequence.Annual, b *inventory.Building) {
	if math.IsNaN(b.Value) {
		l = consequence.Annual{Loss: consequence.Loss{
			Days: l.Days, Dead: l.Dead, Serious: l.Serious, Minor: l.Minor,
			DeathRisk: l.DeathRisk, LimitState: l.LimitState, Collapse: l.Collapse,
		}}
	}
	requireFinite(t, what, l)
}

// requireFinite checks that no number of v is infinite or not a number.
func requireFinite(t *lot, what string, v any) {
	text := fmt.Sprintf("%+v", v)
	require.NotRegexp(t, "NaN|Inf", text, what)
}
