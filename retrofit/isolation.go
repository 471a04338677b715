package retrofit

import (
	"math"

	"plinth/hazard"
	"plinth/retrofit/demand"
)

// IsolationOptions is what the isolation measures share: the range of designs to
// search, the bounds of the isolators' properties and the price.
type IsolationOptions struct {
	YieldRatio    [2]float64 `toml:"yield_ratio" min:"0.005" max:"0.5" doc:"least and largest characteristic strength of the isolators (friction of sliders) over the weight above, to search"`
	Period        [2]float64 `toml:"period_s" unit:"s" min:"0.5" max:"10" doc:"least and largest period of the isolators past yield, to search"`
	Upper         [2]float64 `toml:"upper_bound" min:"1" max:"5" doc:"largest strength and largest stiffness of the isolators over nominal: forces and floor accelerations are taken with it"`
	Lower         [2]float64 `toml:"lower_bound" min:"0.1" max:"1" doc:"least strength and least stiffness of the isolators over nominal: displacement is taken with it"`
	SlabMass      float64    `toml:"slab_mass_ratio" min:"0.05" max:"5" doc:"mass of the slab above the isolators over that of a mean floor"`
	DriftShare    float64    `toml:"drift_share" min:"0" max:"1" doc:"weight of drift in choosing a design; floor acceleration has the rest"`
	ColumnSpacing float64    `toml:"column_spacing_m" unit:"m" min:"2" max:"30" doc:"spacing of columns, with one isolator under each"`
	WindPressure  float64    `toml:"wind_pressure_pa" unit:"Pa" min:"0" max:"1e4" doc:"wind on the broad face that the isolators must hold without yielding"`
	PlaneDamping  float64    `toml:"plane_damping" min:"0" max:"0.5" doc:"damping of viscous dampers beside the isolators, a fraction of critical at their period past yield; 0 for none"`
	PlaneForce    float64    `toml:"plane_damper_force_n" unit:"N" min:"1e3" max:"1e13" doc:"largest force of one damper beside the isolators"`
	Nominal       bool       `toml:"nominal_levels" doc:"take demand with nominal isolators, for a comparison of best estimates; the rules look at the bounds all the same"`
	Price         Price      `toml:"price" doc:"cost of isolation"`
	Disruption    Disruption `toml:"disruption" doc:"weeks of isolation works"`

	Steps     int              `toml:"-"` // designs tried along each range
	Reduction hazard.Reduction `toml:"-"` // of displacement by damping; nil for ASCE 7-16 Table 17.5-1
	Rules     Rules            `toml:"-"` // nil for DefaultRules
}

// The default bounds suppose a maker with qualification tests. By ASCE 7-16
// 17.2.8.4 (from memory),
//
//	max = (1 + 0.75 (ageing,max - 1)) testing,max making,max
//	min = (1 - 0.75 (1 - ageing,min)) testing,min making,min
//
// with ageing 1.1 and 1.0 (stiffness; AASHTO, from memory), tests 1.1 and 0.95,
// making 1.15 and 0.85 (judgement): 1.36 and 0.81, rounded. Without such tests
// the clause asks at least 1.8 and at most 0.60.
var (
	defaultUpper = [2]float64{1.35, 1.35}
	defaultLower = [2]float64{0.8, 0.8}
)

// isolating is what lead-rubber bearings and sliders share.
type isolating struct {
	screening
	opt       IsolationOptions
	kind      demand.IsolatorKind
	reduction hazard.Reduction
	ratio     float64      // K1/K2 if above 0
	slip      float64      // m, yield displacement where ratio is 0
	bearings  *BearingRule // proportions to check, nil for sliders
}

func newIsolating(slug string, kind demand.IsolatorKind, o IsolationOptions) isolating {
	m := isolating{
		screening: newScreening(slug, o.Rules, o.Price, o.Disruption),
		opt:       o, kind: kind, reduction: o.Reduction,
	}
	if m.reduction == nil {
		m.reduction = hazard.ReductionIsolation
	}
	return m
}

// A Design is one isolation design at the design level: a point on the curve of
// movement against drift and floor acceleration. Forces, drift and acceleration
// are with the upper bound of properties, displacement with the lower.
type Design struct {
	YieldRatio   float64 // nominal Qd over weight
	Period       float64 // s, nominal T2
	Displacement float64 // m, total maximum displacement
	DriftRatio   float64
	PeakAccel    float64 // m/s2
	BaseShear    float64 // N
	FrameUse     float64 // demand over strength of the frame above
	Score        float64 // drift and acceleration over those as it stands; the lower the better
	Verdict      Verdict // of the rules on the design
	Bars         int     // how many of them bar it
	Miss         float64 // ratio by which the worst bar is missed, 1 if none is
}

// betterThan reports whether d is to be chosen before e: a less grave verdict,
// then a lower score. Among designs that are all barred it is the one barred by
// the fewest rules and missing by the least, so that the reason names what would
// be enough.
func (d *Design) betterThan(e *Design) bool {
	switch {
	case d.Verdict != e.Verdict:
		return d.Verdict < e.Verdict
	case d.Bars != e.Bars:
		return d.Bars < e.Bars
	case d.Verdict == Bar:
		return d.Miss < e.Miss
	}
	return d.Score < e.Score
}

// Designs appends every design the measure would search for c to dst, for the
// trade-off curve. It looks at no rule that needs no design.
func (m *isolating) Designs(w *Work, c *Case, dst []Design) []Design {
	w.values.read(c)
	w.rests = w.rests[:0]
	for i := range m.opt.Steps {
		for j := range m.opt.Steps {
			dst = append(dst, m.try(w, c, i, j))
			w.rests = append(w.rests, w.Demand.Trace.Isolated.Starts())
		}
	}
	return dst
}

// near returns where the search for a point of the grid may begin, from the points
// before it, rows of n, as if displacement were a product of what row and column give.
func near(rests []demand.Starts, n, i, j int) demand.Starts {
	at := i*n + j
	a, b := 1, n // to the neighbours; a + b to the one they share
	switch {
	case at == 0:
		return demand.Starts{}
	case i == 0:
		b = 1
	case j == 0:
		a = n
	}
	near := rests[at-a]
	if at >= a+b {
		other, shared := rests[at-b], rests[at-a-b]
		near.Upper.Displacement *= other.Upper.Displacement / shared.Upper.Displacement
		near.Lower.Displacement *= other.Lower.Displacement / shared.Lower.Displacement
	}
	return near
}

// search returns the best design and its device.
func (m *isolating) search(w *Work, c *Case) (Design, demand.Isolation) {
	w.designs = m.Designs(w, c, w.designs[:0])
	best := 0
	for i := range w.designs {
		if w.designs[i].betterThan(&w.designs[best]) {
			best = i
		}
	}
	return w.designs[best], m.point(w, c, best/m.opt.Steps, best%m.opt.Steps)
}

// point returns the device at a point of the grid with where its balance is sought.
func (m *isolating) point(w *Work, c *Case, i, j int) demand.Isolation {
	d := m.device(c, i, j)
	d.Near = near(w.rests, m.opt.Steps, i, j)
	return d
}

// try evaluates one point of the grid of designs at the design level.
func (m *isolating) try(w *Work, c *Case, i, j int) Design {
	dev := m.point(w, c, i, j)
	m.level(w, c, c.Design, dev, &w.trial)
	m.criteria(w, c, dev, &w.trial)
	asIs := &c.AsIs[c.Design]
	w.values.compare(asIs, &w.trial)
	verdict, bars, miss := m.judge(&w.values)
	return Design{
		YieldRatio:   grid(m.opt.YieldRatio, m.opt.Steps, i),
		Period:       grid(m.opt.Period, m.opt.Steps, j),
		Displacement: w.values[totalDisplacement],
		DriftRatio:   w.trial.DriftRatio,
		PeakAccel:    w.trial.PeakAccel,
		BaseShear:    w.trial.BaseShear,
		FrameUse:     w.values[frameUse],
		Score:        mix(m.opt.DriftShare, asIs, &w.trial),
		Verdict:      verdict, Bars: bars, Miss: miss,
	}
}

// device returns the nominal isolation system at a point of the grid.
func (m *isolating) device(c *Case, i, j int) demand.Isolation {
	weight := c.Weight()
	slab := m.opt.SlabMass * weight / hazard.Gravity / float64(c.Stick.N())
	mass := weight/hazard.Gravity + slab
	omega := 2 * math.Pi / grid(m.opt.Period, m.opt.Steps, j)
	d := demand.Isolation{
		Kind:     m.kind,
		Qd:       grid(m.opt.YieldRatio, m.opt.Steps, i) * mass * hazard.Gravity,
		K2:       mass * omega * omega,
		Dampers:  m.opt.PlaneDamping,
		BaseMass: slab, Reduction: m.reduction,
		Upper: demand.Bound{Qd: m.opt.Upper[0], Kd: m.opt.Upper[1]},
		Lower: demand.Bound{Qd: m.opt.Lower[0], Kd: m.opt.Lower[1]},
	}
	d.K1 = m.ratio * d.K2
	if m.ratio == 0 {
		d.K1 = d.K2 + d.Qd/m.slip
	}
	return d
}

// level fills out with the demand at level i: forces, drift and acceleration
// with the upper bound of the isolators' properties, displacement with the lower.
func (m *isolating) level(w *Work, c *Case, i int, d demand.Isolation, out *demand.Response) {
	w.Demand.Isolated(c.Stick, &c.Site.Spectra[i], d, &c.AsIs[i], out)
}

// criteria sets what the rules of isolation look at for the nominal device d
// with the design-level demand r, right after level computed it. The restoring
// force and the strength against wind are those of the lower bound. Overturning takes all of the force through the
// isolators at the resultant of the floor forces of ASCE 7-16 17.5.6 (from
// memory), so that it is not small.
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
		v[uplift] = r.BaseShear * w.Demand.Trace.Isolated.ForceHeight / (mass * hazard.Gravity * min(c.Facts.Length, c.Facts.Width) / 2)
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

// assemble searches a design for c, fills the levels of out, records the sizes and
// sets what the rules on the design look at. It returns the number of isolators and
// dampers.
func (m *isolating) assemble(w *Work, c *Case, out *Outcome) (devices float64) {
	best, dev := m.search(w, c)
	levels := out.levels(len(c.Site.Spectra))
	last := len(levels) - 1
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
	w.Built.isolated(c.Stick, dev)
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

// evaluate is Evaluate of self.
func (m *isolating) evaluate(self Measure, w *Work, c *Case, out *Outcome) {
	if m.begin(self, w, c, out) {
		n := m.assemble(w, c, out)
		m.finish(w, c, out, Amounts{Devices: n, Moat: c.Facts.perimeter()})
	}
}
