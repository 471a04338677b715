package assess_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/internal/trial"
	"plinth/pipeline/inventory"
	"plinth/pipeline/plan"
	"plinth/retrofit/consequence"
)

// A yearly holds the annual values of a stock.
type yearly struct {
	loss, deaths float64
	states       [consequence.NumLimitStates]float64
	lookNow      int // buildings whose collapse prevention is exceeded oftener than once in 100 years
	best         []string
}

// yearlyOf assesses every building of the demo town.
func yearlyOf(t testing.TB, change func(*plan.Plan)) (y yearly) {
	study := trial.Open(t, 240, change)
	a := study.NewAssessment()
	_, err := study.EachBatch(context.Background(), func(batch *inventory.Batch) error {
		for i := range batch.Buildings {
			if err := a.Assess(&batch.Buildings[i]); err != nil {
				continue // outside the hazard, whatever the levels
			}
			y.loss += a.Before.Total
			y.deaths += a.Before.Dead
			for s, p := range a.Before.LimitState {
				y.states[s] += p
			}
			if a.Before.LimitState[consequence.CollapsePrevention] > 1./100 {
				y.lookNow++
			}
			best := "none"
			if o := a.Best(); o != nil {
				best = o.Measure.Slug()
			}
			y.best = append(y.best, best)
		}
		return nil
	})
	require.NoError(t, err)
	return y
}

// Which return periods a plan prints must not decide what a year costs: the hazard is the same.
// They moved the annual loss by a factor of 2, deaths by 2.75 and the list of buildings to look at
// now from 18 to 110 while the loss was a straight line from the first level to nothing.
func TestAnnualValuesDoNotDependOnTheReturnPeriodsOfThePlan(t *testing.T) {
	of := func(years ...float64) func(*plan.Plan) {
		return func(p *plan.Plan) { p.Hazard.ReturnPeriods = years }
	}
	want := yearlyOf(t, of(25, 50, 100, 225, 475, 975, 2475, 4975))
	for _, years := range [][]float64{{475, 2475}, {100, 475, 975, 2475}, {224, 475, 975, 2475}, {50, 475, 2475},
		{475}, {10, 25, 50, 100, 225, 475, 975, 2475, 4975, 9975}} {
		t.Run(fmt.Sprint(years), func(t *testing.T) {
			got := yearlyOf(t, of(years...))
			assert.InEpsilon(t, want.loss, got.loss, 0.10, "annual loss")
			assert.InEpsilon(t, want.deaths, got.deaths, 0.10, "deaths")
			for s := range want.states {
				assert.InEpsilon(t, want.states[s], got.states[s], 0.10, "limit state %d", s)
			}
			assert.InDelta(t, want.lookNow, got.lookNow, max(2, 0.1*float64(want.lookNow)), "to look at now")
			moved := 0
			for i := range want.best {
				if got.best[i] != want.best[i] {
					moved++
				}
			}
			t.Logf("loss %.4f, deaths %.4f, states %.4f %.4f %.4f, look now %d for %d, %d best measures move",
				got.loss/want.loss, got.deaths/want.deaths, got.states[0]/want.states[0],
				got.states[1]/want.states[1], got.states[2]/want.states[2], got.lookNow, want.lookNow, moved)
			assert.LessOrEqual(t, float64(moved), math.Ceil(0.02*float64(len(want.best))), "best measures")
		})
	}
}

// BenchmarkAssess is one building of the demo town with every measure of its plan.
func BenchmarkAssess(b *testing.B) {
	study := trial.Open(b, 240, nil)
	var list []inventory.Building
	_, err := study.EachBatch(context.Background(), func(batch *inventory.Batch) error {
		list = append(list, batch.Buildings...)
		return nil
	})
	require.NoError(b, err)
	a := study.NewAssessment()
	for i := 0; b.Loop(); i++ {
		_ = a.Assess(&list[i%len(list)]) // some lie outside the hazard
	}
}

