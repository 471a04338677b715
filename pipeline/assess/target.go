package assess

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"plinth/hazard/elementary"
	"plinth/pipeline/inventory"
	"plinth/retrofit/consequence"
	"plinth/retrofit/demand"
)

// A target is what a building must survive: the limit states it stays within, each at a return
// period.
type target struct {
	years [consequence.NumLimitStates]float64 // 0 for a limit state that is not asked for
	uses  []inventory.Use                     // those immediate occupancy is asked for
}

// setTarget sets the return periods of the target; 0 in the plan is that of the design.
func (study *Study) setTarget() {
	t := &study.plan.Target
	for state, years := range map[consequence.LimitState]float64{
		consequence.LifeSafety: t.LifeSafety, consequence.ImmediateOccupancy: t.ImmediateOccupancy,
	} {
		if years == 0 {
			years = study.plan.Hazard.Design
		}
		study.target.years[state] = years
	}
}

// openTarget reads the uses of the target.
func (study *Study) openTarget() error {
	var errs []error
	for _, slug := range study.plan.Target.Uses {
		use, err := inventory.ParseUse(slug)
		if err != nil {
			errs = append(errs, study.InPlan("target.immediate_occupancy_uses", fmt.Errorf("%q: %w", slug, err)))
		}
		study.target.uses = append(study.target.uses, use)
	}
	return errors.Join(errs...)
}

// asks reports whether a limit state is asked for of buildings of a use.
func (t *target) asks(state consequence.LimitState, use inventory.Use) bool {
	switch state {
	case consequence.LifeSafety:
		return true
	case consequence.ImmediateOccupancy:
		return slices.Contains(t.uses, use)
	}
	return false
}

// beyond returns the first limit state of the target that the median demand of levels exceeds, or
// NumLimitStates where the building stays within all of them.
func (a *Assessment) beyond(levels []demand.Response, e *consequence.Exposure) consequence.LimitState {
	for state := range consequence.NumLimitStates {
		if a.study.target.asks(state, a.Building.Use) &&
			a.driftAt(levels, a.study.target.years[state]) > e.Limits[state] {
			return state
		}
	}
	return consequence.NumLimitStates
}

// driftAt returns the largest storey drift ratio at a return period: on a straight line between the
// logarithms of both at the levels beside it. A drift without a number exceeds every limit.
func (a *Assessment) driftAt(levels []demand.Response, years float64) float64 {
	periods := a.Site.ReturnPeriod
	i, found := slices.BinarySearch(periods, years)
	if found {
		return orInfinite(levels[i].DriftRatio)
	}
	i = min(max(i, 1), len(periods)-1)
	low, high := levels[i-1].DriftRatio, levels[i].DriftRatio
	if len(periods) == 1 || !(low > 0) {
		return orInfinite(high)
	}
	return orInfinite(elementary.PowerLaw(years, periods[i-1], periods[i], low, high))
}

func orInfinite(x float64) float64 {
	if math.IsNaN(x) {
		return math.Inf(1)
	}
	return x
}

// Shortfall says in words which limit state of the target the building exceeds as it stands, and
// at which return period; "" where it meets the target.
func (a *Assessment) Shortfall() string {
	state := a.beyond(a.AsIs, &a.Exposure)
	if state == consequence.NumLimitStates {
		return ""
	}
	return fmt.Sprintf("%v at %g yr", state, a.study.target.years[state])
}

// judgeTarget marks the options that fall short of the target, and whether one reaches it.
func (a *Assessment) judgeTarget() {
	a.reached = false
	for i := range a.Options {
		o := &a.Options[i]
		o.Short = o.Feasible() && a.beyond(o.Levels, &o.Exposure) < consequence.NumLimitStates
		a.reached = a.reached || a.harmless(o) && !o.Short
	}
}
