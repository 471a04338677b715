package trial

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/plan"
)

// EachLegal draws plans, buildings and hazards, the extremes among them, and calls f with
// every building that is assessed; n counts them from 1. What is not assessed is a reject of
// the register or outside the method, and says so.
func EachLegal(t *testing.T, cases int, f func(t *Case, a *assess.Assessment, n int)) {
	p := town.Plan(t, town.New(t, 1), func(p *plan.Plan) { p.Confirm.Records, p.Confirm.Measures = 2, 8 })
	base, err := assess.Open(p)
	require.NoError(t, err)
	if testing.Short() || underRace { // a case is of one goroutine: the detector has little to see
		cases /= 20
	}
	n := 0
	for i := range cases {
		lt := &Case{TB: t, r: rand.New(rand.NewPCG(1, uint64(i))), number: i}
		study := legalRun(lt, base)
		b := legalBuilding(lt, study)
		if b == nil {
			continue // a reject of the register
		}
		a := study.NewAssessment()
		if err := a.Assess(b); err != nil {
			require.Nil(lt, assess.FailureOf(err), "%v", err)
			continue // the method does not reach so far, and says so
		}
		n++
		f(lt, a, n)
	}
	// Nearly half of a thousand are assessed; a quarter is 3 standard deviations below that in 50.
	require.Greater(t, n, cases/4)
}
