package assess_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/trial"
	"plinth/pipeline/inventory"
	"plinth/retrofit"
	"plinth/retrofit/consequence"
	"plinth/retrofit/demand"
)

// Every legal plan, building and hazard, the extremes among them, ends in numbers: what
// is not a number has a status or a verdict that says so, and nothing panics.
func TestLegalExtremesEndInNumbers(t *testing.T) {
	trial.EachLegal(t, 1000, func(t *trial.Case, a *assess.Assessment, _ int) { requireNumbers(t, a) })
}

// requireNumbers checks what was computed of a building.
func requireNumbers(t *trial.Case, a *assess.Assessment) {
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
func requireResponses(t *trial.Case, slug string, levels []demand.Response) {
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

// requireAnnual checks annual values, those of money only where the value of the building
// is known.
func requireAnnual(t *trial.Case, what string, l consequence.Annual, b *inventory.Building) {
	if math.IsNaN(b.Value) {
		l = consequence.Annual{Loss: consequence.Loss{
			Days: l.Days, Dead: l.Dead, Serious: l.Serious, Minor: l.Minor,
			DeathRisk: l.DeathRisk, LimitState: l.LimitState, Collapse: l.Collapse,
		}}
	}
	requireFinite(t, what, l)
}

// requireFinite checks that no number of v is infinite or not a number.
func requireFinite(t *trial.Case, what string, v any) {
	text := fmt.Sprintf("%+v", v)
	require.NotRegexp(t, "NaN|Inf", text, what)
}
