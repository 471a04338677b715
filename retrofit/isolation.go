package retrofit

import (
	"math"

	"plinth/hazard"
	"plinth/retrofit/demand"
)

// IsolationOptions are the options common to the isolation measures: the range of designs to
// search, the bounds of the isolators' properties and the price.
type IsolationOptions struct {
	// least and largest characteristic strength of the isolators (friction of sliders) over the weight above,
	// to search
	YieldRatio [2]float64 `toml:"yield_ratio" min:"0.005" max:"0.5"`
	// return period for which the isolators are sized, barred and priced: their movement and the gap, the
	// bearings or the dish, uplift and the force that brings them back; 2475 stands for the maximum
	// considered motion of ASCE 7-16 chapter 17
	Sizing float64 `toml:"sizing_return_period_yr" unit:"yr" min:"10" max:"100000"`
	// movement that the isolators take over the movement they are sized for, before they give out; for the
	// losses
	Reserve float64 `toml:"travel_reserve" min:"1" max:"5"`
	// least and largest period of the isolators past yield, to search
	Period [2]float64 `toml:"period_s" unit:"s" min:"0.5" max:"10"`
	// largest strength and largest stiffness of the isolators over nominal: forces and floor accelerations
	// are taken with it
	Upper [2]float64 `toml:"upper_bound" min:"1" max:"5"`
	// least strength and least stiffness of the isolators over nominal: displacement is taken with it
	Lower [2]float64 `toml:"lower_bound" min:"0.1" max:"1"`
	// mass of the slab above the isolators over that of a mean floor
	SlabMass float64 `toml:"slab_mass_ratio" min:"0.05" max:"5"`
	// weight of drift in choosing a design; floor acceleration has the rest
	DriftShare float64 `toml:"drift_share" min:"0" max:"1"`
	// spacing of columns, with one isolator under each
	ColumnSpacing float64 `toml:"column_spacing_m" unit:"m" min:"2" max:"30"`
	// wind on the broad face that the isolators must hold without yielding
	WindPressure float64 `toml:"wind_pressure_pa" unit:"Pa" min:"0" max:"1e4"`
	// damping of viscous dampers beside the isolators, a fraction of critical at their period past yield; 0
	// for none
	PlaneDamping float64 `toml:"plane_damping" min:"0" max:"0.5"`
	// largest force of one damper beside the isolators
	PlaneForce float64 `toml:"plane_damper_force_n" unit:"N" min:"1e3" max:"1e13"`
	// take demand with nominal isolators, for a comparison of best estimates; the rules look at the bounds
	// all the same
	Nominal bool `toml:"nominal_levels"`
	// cost of isolation
	Price Price `toml:"price" without:"per_m_wall"`
	// weeks of isolation works
	Disruption Disruption `toml:"disruption"`

	// by which standard damping lessens the movement of the isolators (docs/methods/hazard.md)
	Damping string `toml:"damping_reduction" choices:"asce-7-isolation|asce-41|asce-7-dampers|en-1998-1|nz|nz-near-fault|aashto|japan-1457|fema-356-short|fema-356-long|gb-50011"`

	Steps int `toml:"-"` // designs tried along each range
}

// The default bounds assume a maker with qualification tests. By ASCE 7-16 17.2.8.4 (from
// memory),
//
//	max = (1 + 0.75 (ageing,max - 1)) testing,max making,max
//	min = (1 - 0.75 (1 - ageing,min)) testing,min making,min
//
// with ageing 1.1 and 1.0 (stiffness; AASHTO, from memory), tests 1.1 and 0.95, making 1.15 and
// 0.85 (judgement): 1.36 and 0.81, rounded. Without such tests the clause requires at least 1.8
// and at most 0.60.
var (
	defaultUpper = [2]float64{1.35, 1.35}
	defaultLower = [2]float64{0.8, 0.8}
)

// isolationRules are the rules of every isolation measure.
var isolationRules = []string{
	"party-wall", "light-building", "isolation-plane", "height", "slenderness", "irregular-plan",
	"soft-site", "site-period", "near-fault", "flexible-already", "vertical-shaking", "services",
	"isolators-stuck", "clearance", "period-separation", "frame-use", "uplift", "wind", "plane-dampers",
	"clearance-rarest", "restoring-force", "isolated-period", "acceleration-fragile", "little-gain",
	"unsettled",
}

// isolating is the common part of lead-rubber bearings and sliders.
type isolating struct {
	screening
	opt       IsolationOptions
	kind      demand.IsolatorKind
	reduction hazard.Reduction
	ratio     float64      // K1/K2 if above 0
	slip      float64      // m, yield displacement if ratio is 0
	bearings  *BearingRule // proportions to check, nil for sliders
}

func newIsolating(k *Kind, kind demand.IsolatorKind, o IsolationOptions) isolating {
	reduction, err := hazard.ReductionNamed(o.Damping)
	if err != nil {
		panic("retrofit: isolation with options that were not validated")
	}
	return isolating{screening: newScreening(k, o.Price, o.Disruption), opt: o, kind: kind,
		reduction: reduction}
}

// level fills out with the demand at level i: forces, drift and acceleration with the upper
// bound of the isolators' properties, displacement with the lower.
func (m *isolating) level(w *Work, c *Case, i int, d demand.Isolation, out *demand.Response) {
	w.Demand.Isolated(c.Stick, &c.Site.Spectra[i], d, &c.AsIs[i], out)
}

// bearing returns one bearing of the nominal system d; NaN if the plan is not
// known.
func (m *isolating) bearing(c *Case, d demand.Isolation, displacement float64) demand.LeadRubberBearing {
	n := c.Facts.columns(m.opt.ColumnSpacing)
	return m.bearings.Size(d.K2/n, d.Qd/n, (c.Weight()+d.BaseMass*hazard.Gravity)/n, displacement)
}

// totalOverCentre returns the total maximum displacement at a corner over the
// displacement at the centre, with an accidental eccentricity of 5 % of the longer
// side and no credit for isolators placed towards the corners: 1.15 for a square
// and where the plan is not known, up to 1.30.
func (f *Facts) totalOverCentre() float64 {
	l, w := f.plan()
	if math.IsNaN(l) {
		l, w = 1, 1
	}
	plan := demand.Torsion{Length: l, Width: w, Eccentricity: 0.05 * l, Lever: l / 2, Ratio: 1}
	return plan.TotalDisplacement(1)
}

// assemble searches a design for c, fills the levels of out, records the sizes and sets the
// criteria of the rules on the design. It returns the number of isolators and dampers, counted by
// their size.
func (m *isolating) assemble(w *Work, c *Case, out *Outcome) (devices float64) {
	best, dev := m.search(w, c)
	levels := out.levels(len(c.Site.Spectra))
	over := c.Facts.totalOverCentre()
	last := &c.Site.Spectra[len(levels)-1-c.Beyond]
	rarest := w.Demand.Settle(c.Stick, last, dev).Lower.Displacement * over
	dev.Near = best.starts
	m.sized(w, c, dev)
	push := w.Demand.Trace.Isolated.DamperForce() // N, of all dampers in one direction
	dev.Near = demand.Starts{}
	m.level(w, c, c.Design, dev, &w.trial)
	m.used(w, &w.trial)
	w.values[largestDisplacement] = rarest
	out.Travel = Travel{Sized: w.values[totalDisplacement] / over, Corner: over, Reserve: m.opt.Reserve}
	if m.opt.Nominal {
		dev.Upper, dev.Lower = demand.Bound{}, demand.Bound{}
	}
	for i := range levels {
		m.level(w, c, i, dev, &levels[i])
		dev.Near = w.Demand.Trace.Isolated.Starts()
	}
	w.isolation = dev
	w.Built = Built{c.Stick, &w.isolation}
	n := c.Facts.columns(m.opt.ColumnSpacing)
	out.size("isolators", n, "")
	out.size("isolated period past yield", best.Period, "s")
	out.size("yield strength over weight", best.YieldRatio, "")
	out.size("sizing return period", w.sizing.years, "yr")
	out.size("total displacement", best.Displacement, "m")
	out.size("total displacement at the rarest level", rarest, "m")
	out.size("displacement at which they give out", best.Displacement*m.opt.Reserve, "m")
	volume := 1.0 // of an isolator over that of the price
	if m.bearings != nil {
		b := m.bearing(c, dev, best.Displacement)
		out.size("bearing diameter", b.Diameter, "m")
		out.size("lead core diameter", b.Lead, "m")
		out.size("rubber thickness", b.Rubber, "m")
		volume = b.Diameter * b.Diameter * b.Rubber / pricedBearing
	} else {
		weight := c.Weight() + dev.BaseMass*hazard.Gravity
		out.size("radius of curvature", weight/dev.K2, "m")
		out.size("load of one slider", weight/n/1e3, "kN")
		dish := 2*best.Displacement + sliderRim
		out.size("width of the dish", dish, "m")
		volume = dish * dish / pricedDish
	}
	devices = n * (1 - sizeShare + sizeShare*volume)
	if m.opt.PlaneDamping == 0 {
		return devices
	}
	dampers := max(2, math.Ceil(push/m.opt.PlaneForce)) // in one direction
	out.size("dampers beside the isolators", 2*dampers, "")
	out.size("damper force", push/dampers/1e3, "kN")
	return devices + 2*dampers
}

// evaluate implements Evaluate for self.
func (m *isolating) evaluate(self Measure, w *Work, c *Case, out *Outcome) {
	if m.begin(self, w, c, out) {
		n := m.assemble(w, c, out)
		m.finish(w, c, out, Amounts{Devices: n, Moat: c.Facts.perimeter()})
	}
}
