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

// criteria sets the criteria of the rules of isolation for the nominal device d with the
// design-level demand r, right after level computed it. The restoring force and the strength
// against wind are those of the lower bound. Overturning assumes the whole force through the
// isolators at the resultant of the floor forces of ASCE 7-16 17.5.6 (from memory), so that it
// is not underestimated.
func (m *isolating) criteria(w *Work, c *Case, d demand.Isolation, r *demand.Response) {
	v := &w.values
	mass := c.Weight()/hazard.Gravity + d.BaseMass
	low := demand.System{Mass: mass, Qd: d.Lower.Qd * d.Qd, Kd: d.Lower.Kd * d.K2, Dy: d.Qd / (d.K1 - d.K2)}
	v[periodRatio] = 2 * math.Pi * math.Sqrt(mass/d.K2) / c.Stick.Modes.Period[0]
	v[isolatedPeriod] = w.Demand.Trace.Isolated.Lower.Period
	v[frameUse] = r.Ductility
	v[planeDamping] = m.opt.PlaneDamping
	v[windShare] = m.opt.WindPressure * c.Facts.face() / low.Qd
	v[isolatorsStuck] = yes(r.Status&demand.Stuck != 0)
	v[totalDisplacement] = r.Displacement * c.Facts.totalOverCentre()
	v[restoringForce], _ = low.Restores(r.Displacement, mass*hazard.Gravity)
	v[uplift] = math.NaN()
	if c.Facts.Length > 0 && c.Facts.Width > 0 {
		v[uplift] = r.BaseShear * w.Demand.Trace.Isolated.ForceHeight /
			(mass * hazard.Gravity * min(c.Facts.Length, c.Facts.Width) / 2)
	}
	if m.bearings != nil {
		b := m.bearing(c, d, v[totalDisplacement])
		v[bearingDiameter], v[bearingShape] = b.Diameter, b.Diameter/b.Rubber
	}
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
// criteria of the rules on the design. It returns the number of isolators and dampers.
func (m *isolating) assemble(w *Work, c *Case, out *Outcome) (devices float64) {
	best, dev := m.search(w, c)
	levels := out.levels(len(c.Site.Spectra))
	last := len(levels) - 1 - c.Beyond
	m.level(w, c, last, dev, &w.trial)
	rarest := w.trial.Displacement * c.Facts.totalOverCentre()
	m.level(w, c, c.Design, dev, &w.trial)
	m.criteria(w, c, dev, &w.trial)
	w.values[largestDisplacement] = rarest
	push := w.Demand.Trace.Isolated.DamperForce() // N, of all dampers in one direction
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
	out.size("total displacement", best.Displacement, "m")
	out.size("total displacement at the rarest level", rarest, "m")
	if m.bearings != nil {
		b := m.bearing(c, dev, best.Displacement)
		out.size("bearing diameter", b.Diameter, "m")
		out.size("lead core diameter", b.Lead, "m")
		out.size("rubber thickness", b.Rubber, "m")
	} else {
		weight := c.Weight() + dev.BaseMass*hazard.Gravity
		out.size("radius of curvature", weight/dev.K2, "m")
		out.size("load of one slider", weight/n/1e3, "kN")
	}
	if m.opt.PlaneDamping == 0 {
		return n
	}
	dampers := max(2, math.Ceil(push/m.opt.PlaneForce)) // in one direction
	out.size("dampers beside the isolators", 2*dampers, "")
	out.size("damper force", push/dampers/1e3, "kN")
	return n + 2*dampers
}

// evaluate implements Evaluate for self.
func (m *isolating) evaluate(self Measure, w *Work, c *Case, out *Outcome) {
	if m.begin(self, w, c, out) {
		n := m.assemble(w, c, out)
		m.finish(w, c, out, Amounts{Devices: n, Moat: c.Facts.perimeter()})
	}
}
