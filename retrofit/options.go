package retrofit

import (
	"errors"
	"fmt"
	"slices"

	"plinth/hazard"
)

// fault is a condition on options, with the message if it fails.
type fault struct {
	holds bool
	text  string
}

// check joins the messages of the conditions that fail into one error.
func check(slug string, faults ...fault) error {
	var errs []error
	for _, f := range faults {
		if !f.holds {
			errs = append(errs, fmt.Errorf("%s: %s", slug, f.text))
		}
	}
	return errors.Join(errs...)
}

// faults returns the conditions on the options common to isolation measures.
func (o *IsolationOptions) faults() []fault {
	return append(o.Price.faults(),
		fault{ascending(o.YieldRatio), "yield ratio must be two positive numbers, the least first"},
		fault{ascending(o.Period), "period must be two positive numbers, the least first"},
		fault{o.Sizing > 0, "sizing return period must be positive"},
		fault{o.Reserve >= 1, "travel reserve must be at least 1"},
		fault{o.Steps > 0, "steps must be at least 1"},
		fault{o.Upper[0] >= 1 && o.Upper[1] >= 1, "upper bounds must be at least 1"},
		fault{ratio(o.Lower[0]) && ratio(o.Lower[1]), "lower bounds must lie above 0, up to 1"},
		fault{o.SlabMass > 0, "slab mass must be positive"},
		fault{fraction(o.DriftShare), "drift share must lie from 0 to 1"},
		fault{o.PlaneDamping >= 0 && o.PlaneDamping <= 0.5, "plane damping must lie from 0 to 0.5"},
		fault{o.PlaneForce > 0, "plane damper force must be positive"},
		fault{o.WindPressure >= 0, "wind pressure must not be negative"},
		fault{o.ColumnSpacing > 0, "column spacing must be positive"},
		fault{slices.Contains(hazard.ReductionNames(), o.Damping),
			"damping reduction must be a family of package hazard"},
	)
}

func (p Price) faults() []fault {
	return []fault{
		{p.Fixed >= 0 && p.PerArea >= 0 && p.PerDevice >= 0 && p.PerMoat >= 0 && p.PerWall >= 0,
			"prices must not be negative"},
		{ratio(p.LowRatio), "low ratio must lie above 0, up to 1"},
		{p.HighRatio >= 1, "high ratio must be at least 1"},
	}
}

func ascending(r [2]float64) bool { return r[0] > 0 && r[0] <= r[1] }
func ratio(v float64) bool        { return v > 0 && v <= 1 }
func fraction(v float64) bool     { return v >= 0 && v <= 1 }
