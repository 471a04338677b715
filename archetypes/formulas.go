package archetypes

import "fmt"

// The formulas of values without a row in a table.
var (
	givenHeight = Formula{"height-given", "height as given", "register or report", High}
	givenPeriod = Formula{"period-given",
		"period as given; ln-dispersion 0.15 since a measured period lengthens with amplitude",
		"register or report; dispersion judgement", High}
	givenStrength = Formula{"strength-given",
		"Vy/W as given; ln-dispersion 0.25; no further factor is applied",
		"register or report; dispersion judgement", High}
	unitWeight = Formula{"weight-unit-area",
		"no floor area: weight of 1 m2 a floor; forces in N mean nothing, ratios, periods and drifts hold",
		"judgement", Low}
)

// describe writes the formulas of a system once; Assign then only points to them.
func (t *SystemTraits) describe() {
	src := func(i func(*SystemTraits) *float64) citation { return t.citations[t.index(i)] }
	c := src(func(t *SystemTraits) *float64 { return &t.StoreyHeight })
	t.height = Formula{"height-from-storeys", fmt.Sprintf("H = %g m x storeys", t.StoreyHeight), c.source,
		c.confidence}

	c = src(func(t *SystemTraits) *float64 { return &t.WeightArea })
	t.weight = Formula{"weight-from-area", fmt.Sprintf("W = %g kPa x gross floor area", t.WeightArea),
		c.source, c.confidence}
	t.footprint = Formula{"weight-from-footprint",
		fmt.Sprintf("W = %g kPa x footprint x storeys", t.WeightArea), c.source, min(c.confidence, Medium)}

	low := src(func(t *SystemTraits) *float64 { return &t.PeriodLower.Ct })
	high := src(func(t *SystemTraits) *float64 { return &t.PeriodUpper.Ct })
	t.periods = Formula{"period-between-bounds",
		fmt.Sprintf("T = sqrt(Tl Tu), bounds %.4g H^%.3g and %.4g H^%.3g, H in m", t.PeriodLower.Ct,
			t.PeriodLower.X, t.PeriodUpper.Ct, t.PeriodUpper.X),
		"bounds: " + low.source + "; " + high.source, min(low.confidence, high.confidence)}

	c = src(func(t *SystemTraits) *float64 { return &t.Overstrength })
	t.strength = Formula{"strength-from-code",
		fmt.Sprintf("Vy/W = design coefficient at strength level x overstrength (%.3g, non-ductile %.3g, "+
			"unless the era has its own), at most %g; / 1.2 if it twists x 0.65 if the ground storey is "+
			"weak",
			t.Overstrength, t.Overstrength*t.OverstrengthFactor, t.MaximumStrength),
		c.source, c.confidence}
	c = src(func(t *SystemTraits) *float64 { return &t.MinimumStrength })
	over := src(func(t *SystemTraits) *float64 { return &t.MinimumOverN })
	t.minimum = Formula{"strength-minimum",
		fmt.Sprintf("Vy/W = %g/N + %g of N storeys designed for gravity and wind alone; / 1.2 if it twists x "+
			"0.65 if the ground storey is weak", t.MinimumOverN, t.MinimumStrength),
		over.source + "; what does not fall with N: " + c.source, min(over.confidence, c.confidence)}

	c = src(func(t *SystemTraits) *float64 { return &t.Limits.LifeSafety })
	t.limits = Formula{"drift-limits",
		fmt.Sprintf("storey drift ratios %g, %g, %g, collapse %g; the last three x %g if non-ductile",
			t.Limits.ImmediateOccupancy, t.Limits.LifeSafety, t.Limits.CollapsePrevention, t.Limits.Collapse,
			t.DriftFactor),
		c.source + "; factor judgement", c.confidence}
	c = src(func(t *SystemTraits) *float64 { return &t.Ductility[NonDuctile] })
	t.ductility = Formula{"ductility-capacity",
		fmt.Sprintf("%g non-ductile, %g limited, %g ductile", t.Ductility[NonDuctile],
			t.Ductility[LimitedDuctile], t.Ductility[Ductile]),
		c.source, c.confidence}
}

// index returns the index of the quantity whose field at returns.
func (t *SystemTraits) index(at func(*SystemTraits) *float64) int {
	for i, q := range quantities {
		if q.at(t) == at(t) {
			return i
		}
	}
	panic("archetypes: no quantity is kept there")
}
