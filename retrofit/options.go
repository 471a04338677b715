package retrofit

import (
	"errors"
	"fmt"
)

// A fault is a condition options must meet and what to say if they do not.
type fault struct {
	holds bool
	text  string
}

// check joins the texts of the conditions that do not hold into one error.
func check(slug string, faults ...fault) error {
	var errs []error
	for _, f := range faults {
		if !f.holds {
			errs = append(errs, fmt.Errorf("%s: %s", slug, f.text))
		}
	}
	return errors.Join(errs...)
}

// must panics on impossible options: a caller validates what it reads.
func must(err error) {
	if err != nil {
		panic("retrofit: impossible options: " + err.Error())
	}
}

// faults returns the conditions on what isolation measures share.
func (o *IsolationOptions) faults() []fault {
	return append(o.Price.faults(),
		fault{ascending(o.YieldRatio), "yield ratio must be two positive numbers, the least first"},
		fault{ascending(o.Period), "period must be two positive numbers, the least first"},
		fault{o.Steps > 0, "steps must be at least 1"},
		fault{o.Upper.Qd >= 1 && o.Upper.Kd >= 1, "upper bounds must be at least 1"},
		fault{o.Lower.Qd > 0 && o.Lower.Qd <= 1 && o.Lower.Kd > 0 && o.Lower.Kd <= 1, "lower bounds must lie above 0, up to 1"},
		fault{o.SlabMass > 0, "slab mass must be positive"},
		fault{fraction(o.DriftShare), "drift share must lie from 0 to 1"},
		fault{o.ColumnSpacing > 0, "column spacing must be positive"},
	)
}

func (p *Price) faults() []fault {
	return []fault{
		{p.Fixed >= 0 && p.PerArea >= 0 && p.PerDevice >= 0 && p.PerMetre >= 0, "prices must not be negative"},
		{p.LowRatio > 0 && p.LowRatio <= 1, "low ratio must lie above 0, up to 1"},
		{p.HighRatio >= 1, "high ratio must be at least 1"},
	}
}

func ascending(r [2]float64) bool { return r[0] > 0 && r[0] <= r[1] }
func fraction(v float64) bool     { return v >= 0 && v <= 1 }
