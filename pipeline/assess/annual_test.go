package assess_test

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
	"plinth/pipeline/assess"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/internal/trial"
	"plinth/pipeline/inventory"
	"plinth/pipeline/plan"
	"plinth/pipeline/sample"
	"plinth/retrofit/consequence"
)

// A yearly holds the annual values of a stock.
type yearly struct {
	loss, deaths float64
	states       [consequence.NumLimitStates]float64
	lookNow      int // buildings whose collapse prevention is exceeded oftener than once in 100 years
	best         []string
}

func (y *yearly) add(a *consequence.Annual) {
	y.loss += a.Total
	y.deaths += a.Dead
	for s, p := range a.LimitState {
		y.states[s] += p
	}
	if a.LimitState[consequence.CollapsePrevention] > 1./100 {
		y.lookNow++
	}
}

// yearlyOf assesses every building of the demo town.
func yearlyOf(t testing.TB, change func(*plan.Plan)) yearly {
	return yearlyIn(t, trial.Open(t, 240, change))
}

func yearlyIn(t testing.TB, study *assess.Study) (y yearly) {
	a := study.NewAssessment()
	_, err := study.EachBatch(context.Background(), func(batch *inventory.Batch) error {
		for i := range batch.Buildings {
			if err := a.Assess(&batch.Buildings[i]); err != nil {
				continue // outside the hazard, whatever the levels
			}
			y.add(&a.Before)
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
			assert.InEpsilon(t, want.loss, got.loss, 0.01, "annual loss")
			assert.InEpsilon(t, want.deaths, got.deaths, 0.01, "deaths")
			for s := range want.states {
				assert.InEpsilon(t, want.states[s], got.states[s], 0.01, "limit state %d", s)
			}
			assert.InDelta(t, want.lookNow, got.lookNow, 1, "to look at now")
			moved := 0
			for i := range want.best {
				if got.best[i] != want.best[i] {
					moved++
				}
			}
			assert.LessOrEqual(t, float64(moved), math.Ceil(0.02*float64(len(want.best))), "best measures")
		})
	}
}

// A map of two return periods knows less than one of eight. How hazard bends is then that of a
// standard, and a town whose hazard bends more (0.05 g at 25 and 0.39 g at 475 years) has the more
// loss, by as much as the method page says. The status says that shaking was carried far.
func TestMapOfTwoReturnPeriods(t *testing.T) {
	want := yearlyOf(t, nil)
	dir := town.New(t, 240)
	path := filepath.Join(dir, sample.HazardFile)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	var kept []string
	for i, line := range strings.SplitAfter(string(text), "\n") {
		if cells := strings.Split(line, ","); i == 0 || len(cells) > 2 && (cells[2] == "475" || cells[2] == "2475") {
			kept = append(kept, line)
		}
	}
	require.NoError(t, os.WriteFile(path, []byte(strings.Join(kept, "")), 0o600))
	study, err := assess.Open(town.Plan(t, dir, func(p *plan.Plan) {
		p.Hazard.ReturnPeriods = []float64{475, 2475}
	}))
	require.NoError(t, err)
	got := yearlyIn(t, study)
	assert.InDelta(t, 1.75, got.loss/want.loss, 0.1)
	assert.InDelta(t, 1.5, got.deaths/want.deaths, 0.1)
	at, site := study.Hazard().Bound().Center(), hazard.Site{}
	require.NoError(t, study.Hazard().Lookup(at[0], at[1], 'C', &site))
	assert.NotZero(t, site.Status&hazard.FarBeyond)
}

// The rule of the few levels of a run against 80 levels, whose demand is computed and not read
// between others, for the town as it stands.
func TestRuleOfAnnualValuesIsAccurate(t *testing.T) {
	var fine []float64
	rungs := []float64{10, 25, 50, 100, 225, 475, 975, 2475, 10000}
	for i, tr := range rungs[:len(rungs)-1] {
		for part := range 10 {
			fine = append(fine, tr*math.Pow(rungs[i+1]/tr, float64(part)/10))
		}
	}
	fine = append(fine, 10000)
	study := trial.Open(t, 240, func(p *plan.Plan) { p.Hazard.ReturnPeriods, p.Measures.Use = fine, nil })
	years := study.Hazard().ReturnPeriods()
	rule := consequence.NewRule(years, fine, nil)
	a := study.NewAssessment()
	var want, got yearly
	_, err := study.EachBatch(context.Background(), func(batch *inventory.Batch) error {
		for i := range batch.Buildings {
			if a.Assess(&batch.Buildings[i]) != nil {
				continue
			}
			exact := a.AnnualBy(&rule, a.AsIs, &a.Exposure)
			want.add(&exact)
			got.add(&a.Before)
		}
		return nil
	})
	require.NoError(t, err)
	assert.InEpsilon(t, want.loss, got.loss, 0.005)
	assert.InEpsilon(t, want.deaths, got.deaths, 0.005)
	assert.InDelta(t, want.lookNow, got.lookNow, 1)
	// A limit state is passed in frequent shaking the oftener, the wider its dispersion, and there the hazard
	// bends at return periods of its own: between them its curve lies below the cubic.
	for s, tolerance := range []float64{0.015, 0.0125, 0.0075} {
		assert.InEpsilon(t, want.states[s], got.states[s], tolerance, "limit state %d", s)
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
