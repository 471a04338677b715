package pipeline

import (
	"math/rand/v2"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/plan"
	"testing"

	"github.com/stretchr/testify/require"
)

// eachLegal draws plans, buildings and hazards, the extremes among them, and calls f with
// every building that is assessed; n counts them from 1. What is not assessed is a reject of
// the register or outside the method, and says so.
func eachLegal(t *testing.T, cases int, f func(t *lot, a *Assessment, n int)) {
	p := town.Plan(t, town.New(t, 1), func(p *plan.Plan) { p.Confirm.Records, p.Confirm.Measures = 2, 8 })
	base, err := Open(p)
	require.NoError(t, err)
	if testing.Short() {
		cases /= 20
	}
	n := 0
	for i := range cases {
		lt := &lot{TB: t, r: rand.New(rand.NewPCG(1, uint64(i))), number: i}
		r := legalRun(lt, base)
		b := legalBuilding(lt, r)
		if b == nil {
			continue // a reject of the register
		}
		a := r.NewAssessment()
		if err := a.Assess(b); err != nil {
			require.Nil(lt, failure(err), "%v", err)
			continue // the method does not reach so far, and says so
		}
		n++
		f(lt, a, n)
	}
	require.Greater(t, n, cases/3)
}
