package retrofit

import "math"

// A Price is what a measure costs as a person estimates it. It has no currency
// of its own: the plan names one, and a price date.
//
//	likely = Fixed + PerArea A + PerDevice n + PerMetre L
//
// with A the gross floor area in m2, n the number of devices and L the length in m
// of the trench around the building, or of new wall. The defaults of the measures are
// judgement, of the order of the 2020s in US dollars or euros; no published
// table could be verified. They leave out decanting, asbestos, access and fire
// upgrades.
type Price struct {
	Fixed     float64 `toml:"fixed" min:"0" doc:"once: design, peer review, tests, site"`
	PerArea   float64 `toml:"per_m2" min:"0" doc:"a square metre of gross floor"`
	PerDevice float64 `toml:"per_device" min:"0" doc:"a bearing, damper, device or tuned mass, installed"`
	PerMetre  float64 `toml:"per_m" min:"0" doc:"a metre of moat with its retaining wall, or of new wall one storey high"`
	LowRatio  float64 `toml:"low_ratio" min:"0.01" max:"1" doc:"low estimate over likely"`
	HighRatio float64 `toml:"high_ratio" min:"1" max:"20" doc:"high estimate over likely"`
}

// Of returns the cost of a building with floor area in m2, a number of devices
// and a length of trench or wall in m. An area that is not known (NaN) gives a cost that
// is not known.
func (p Price) Of(area, devices, metres float64) Cost {
	likely := p.Fixed + p.PerArea*area + p.PerDevice*devices
	if p.PerMetre > 0 {
		likely += p.PerMetre * metres
	}
	return Cost{Low: p.LowRatio * likely, Likely: likely, High: p.HighRatio * likely}
}

// Disruption is how long a measure keeps a building or parts of it from use:
// so many weeks and so many more for each 1000 m2 of gross floor.
type Disruption struct {
	Fixed        float64 `toml:"weeks" min:"0" doc:"weeks whatever the size"`
	PerThousand  float64 `toml:"weeks_per_1000_m2" min:"0" doc:"weeks more for each 1000 m2 of gross floor"`
	LongestWeeks float64 `toml:"longest_weeks" min:"0" doc:"work goes on in more places at once beyond this; 0 for no limit"`
}

// Of returns the weeks for a floor area in m2; NaN if the area is not known.
func (d Disruption) Of(area float64) float64 {
	weeks := d.Fixed + d.PerThousand*area/1000
	if d.LongestWeeks > 0 && weeks > d.LongestWeeks {
		return d.LongestWeeks
	}
	return weeks
}

// perimeter returns the length of the trench around a building in m: from its
// plan dimensions, or a square of its footprint; NaN if neither is known.
func (f *Facts) perimeter() float64 {
	l, w := f.plan()
	return 2 * (l + w)
}

// plan returns the plan dimensions in m, the longer first: as given, or those of
// a square of the footprint or of an average storey. NaN if nothing is known.
func (f *Facts) plan() (length, width float64) {
	if f.Length > 0 && f.Width > 0 {
		return max(f.Length, f.Width), min(f.Length, f.Width)
	}
	side := math.Sqrt(f.footprint())
	return side, side
}

// footprint returns the plan area in m2: as given, the product of the plan
// dimensions, or the floor area over the storeys. NaN if nothing is known.
func (f *Facts) footprint() float64 {
	switch {
	case f.Footprint > 0:
		return f.Footprint
	case f.Length > 0 && f.Width > 0:
		return f.Length * f.Width
	case f.FloorArea > 0 && f.Storeys > 0:
		return f.FloorArea / float64(f.Storeys)
	}
	return math.NaN()
}
