package retrofit

import "math"

// Price is an estimate of a measure's cost. Its currency and price date are those of the plan.
//
//	likely = Fixed + PerArea A + PerDevice n + PerMoat L + PerWall B
//
// with A the gross floor area in m2, n the number of devices, L the length of the moat and B
// that of new wall in all storeys, in m. The defaults of the measures are judgement, of the
// order of the 2020s in US dollars or euros; no published table could be verified. They do not
// include decanting, asbestos, access and fire upgrades.
type Price struct {
	// once: design, peer review, tests, site
	Fixed float64 `toml:"fixed" min:"0"`
	// a square metre of gross floor
	PerArea float64 `toml:"per_m2" min:"0"`
	// a bearing, damper, device or tuned mass, installed
	PerDevice float64 `toml:"per_device" min:"0"`
	// a metre of moat around the building, with its retaining wall
	PerMoat float64 `toml:"per_m_moat" min:"0"`
	// a metre of new wall, one storey high
	PerWall float64 `toml:"per_m_wall" min:"0"`
	// low estimate over likely
	LowRatio float64 `toml:"low_ratio" min:"0.01" max:"1"`
	// high estimate over likely
	HighRatio float64 `toml:"high_ratio" min:"1" max:"20"`
}

// Amounts are the quantities of a price.
type Amounts struct {
	Area    float64 // m2 of gross floor
	Devices float64
	Moat    float64 // m around the building
	Wall    float64 // m of new wall, one storey high
}

// Of returns the cost of a. If an amount with a price is NaN, the cost is NaN.
func (p Price) Of(a Amounts) Cost {
	likely := p.Fixed
	for _, part := range [...][2]float64{{p.PerArea, a.Area}, {p.PerDevice, a.Devices}, {p.PerMoat, a.Moat},
		{p.PerWall, a.Wall}} {
		if part[0] > 0 {
			likely += part[0] * part[1]
		}
	}
	return Cost{Low: p.LowRatio * likely, Likely: likely, High: p.HighRatio * likely}
}

// Disruption is the time for which a measure keeps a building or parts of it from use: fixed
// weeks, plus weeks for each 1000 m2 of gross floor.
type Disruption struct {
	// weeks whatever the size
	Fixed float64 `toml:"weeks" min:"0"`
	// weeks more for each 1000 m2 of gross floor
	PerThousand float64 `toml:"weeks_per_1000_m2" min:"0"`
	// work goes on in more places at once beyond this; 0 for no limit
	LongestWeeks float64 `toml:"longest_weeks" min:"0"`
}

// Of returns the weeks for a floor area in m2; NaN if the area is not known.
func (d Disruption) Of(area float64) float64 {
	weeks := d.Fixed + d.PerThousand*area/1000
	if d.LongestWeeks > 0 && weeks > d.LongestWeeks {
		return d.LongestWeeks
	}
	return weeks
}

// perimeter returns the length of the moat around a building in m: from its
// plan dimensions, or a square of its footprint; NaN if neither is known.
func (f *Facts) perimeter() float64 {
	l, w := f.plan()
	return 2 * (l + w)
}

// face returns the area in m2 of the broad side; NaN if plan or height is not known.
func (f *Facts) face() float64 {
	l, _ := f.plan()
	return l * f.Height
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
