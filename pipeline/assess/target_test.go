package assess

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/plan"
	"plinth/retrofit/consequence"
	"plinth/retrofit/demand"
)

// aimed assesses buildings of the demo under a plan with a target.
func aimed(t *testing.T, dir string, change func(*plan.Target), look func(*Assessment)) {
	t.Helper()
	study, err := Open(town.Plan(t, dir, func(p *plan.Plan) { change(&p.Target) }))
	require.NoError(t, err)
	a := study.NewAssessment()
	for _, id := range []string{"CS-00001", "CS-00002", "CS-00004", "CS-00006", "CS-00009", "CS-00024", "CS-00040"} {
		one, err := study.AssessOne(context.Background(), id)
		require.NoError(t, err)
		b := *one.Building
		require.NoError(t, a.Assess(&b))
		look(a)
	}
}

// The later a limit state must hold, the more measures fall short; none does at the first level
// where none does at the last.
func TestTargetIsMonotone(t *testing.T) {
	dir := town.New(t, 60)
	var before []bool
	shorts := map[float64]int{}
	for _, years := range []float64{25, 100, 300, 475, 1500, 4975} {
		var now []bool
		aimed(t, dir, func(p *plan.Target) { p.LifeSafety = years }, func(a *Assessment) {
			now = append(now, a.Shortfall() != "")
			for i := range a.Options {
				now = append(now, a.Options[i].Short)
			}
		})
		for i, short := range before {
			assert.True(t, now[i] || !short, "%g yr: %d no longer falls short", years, i)
		}
		for _, short := range now {
			if short {
				shorts[years]++
			}
		}
		before = now
	}
	assert.Zero(t, shorts[25])
	assert.Positive(t, shorts[4975])
}

// A measure that falls short is the best only where none that may be chosen reaches the target.
func TestShortMeasureIsBestOnlyWithoutAnother(t *testing.T) {
	dir := town.New(t, 60)
	alone, beside := 0, 0
	for _, years := range []float64{475, 4975} {
		aimed(t, dir, func(p *plan.Target) { p.LifeSafety = years }, func(a *Assessment) {
			reaches := false
			for i := range a.Options {
				o := &a.Options[i]
				reaches = reaches || o.Feasible() && !o.CostsLives(&a.Before) && !o.Short
			}
			best := a.Best()
			switch {
			case best == nil:
			case best.Short:
				alone++
				assert.False(t, reaches, a.Building.ID)
			default:
				beside++
			}
		})
	}
	assert.Positive(t, alone)
	assert.Positive(t, beside)
}

// Immediate occupancy is asked for of the uses of the plan alone, and is the harder target.
func TestTargetOfUses(t *testing.T) {
	dir := town.New(t, 60)
	var plain, harder int
	count := func(n *int) func(*Assessment) {
		return func(a *Assessment) {
			if a.Shortfall() != "" {
				*n++
			}
		}
	}
	aimed(t, dir, func(p *plan.Target) { p.LifeSafety = 50 }, count(&plain))
	aimed(t, dir, func(p *plan.Target) {
		p.LifeSafety, p.ImmediateOccupancy, p.Uses = 50, 475, []string{"hospital"}
	}, func(a *Assessment) {
		count(&harder)(a)
		if a.Building.ID == "CS-00001" { // a hospital
			assert.Equal(t, "immediate occupancy at 475 yr", a.Shortfall())
		}
	})
	assert.Greater(t, harder, plain)

	_, err := Open(town.Plan(t, dir, func(p *plan.Plan) { p.Target.Uses = []string{"palace"} }))
	assert.ErrorContains(t, err, `target.immediate_occupancy_uses`)
	assert.ErrorContains(t, err, `use "palace" is not known: want one of house,`)
}

// Between levels drift is read on a straight line in the logarithms; one without a number exceeds
// every limit.
func TestDriftAt(t *testing.T) {
	a := &Assessment{Site: hazard.Site{ReturnPeriod: []float64{100, 400}}}
	levels := []demand.Response{{DriftRatio: 0.01}, {DriftRatio: 0.04}}
	assert.InDelta(t, 0.01, a.driftAt(levels, 100), 1e-15)
	assert.InDelta(t, 0.02, a.driftAt(levels, 200), 1e-12, "drift as the return period here")
	levels[1].DriftRatio = math.NaN()
	assert.True(t, math.IsInf(a.driftAt(levels, 400), 1))
	assert.True(t, math.IsInf(a.driftAt(levels, 200), 1))
	assert.Equal(t, "life safety", consequence.LifeSafety.String())
}
