package retrofit

// StrengthenViscousOptions is the design range and price of new walls or braces
// together with viscous dampers. Its parts give the ranges; their prices,
// disruption and rules are not used.
type StrengthenViscousOptions struct {
	Strengthen StrengthenOptions `toml:"strengthen" doc:"range of the walls or braces"`
	Viscous    ViscousOptions    `toml:"viscous" doc:"range of the dampers"`
	Price      Price             `toml:"price" doc:"cost of both"`
	Disruption Disruption        `toml:"disruption" doc:"weeks of both"`

	Rules Rules `toml:"-"` // nil for DefaultRules
}

// DefaultStrengthenViscousOptions returns the defaults of the parts with a milder
// strengthening, to a strength ratio of 2.5 with at most twofold strength, and
// prices (judgement).
func DefaultStrengthenViscousOptions() StrengthenViscousOptions {
	o := StrengthenViscousOptions{
		Strengthen: DefaultStrengthenOptions(), Viscous: DefaultViscousOptions(),
		Price:      Price{Fixed: 80e3, PerArea: 120, PerDevice: 15e3, PerWall: 2500, LowRatio: 0.7, HighRatio: 1.6},
		Disruption: Disruption{Fixed: 10, PerThousand: 9, LongestWeeks: 104},
	}
	o.Strengthen.TargetStrengthRatio, o.Strengthen.MaxFactor = 2.5, 2
	return o
}

// Validate returns all that is impossible in the options, joined.
func (o *StrengthenViscousOptions) Validate() error {
	f := append(o.Price.faults(), o.Strengthen.faults()...)
	return check("strengthen-viscous", append(f, o.Viscous.faults()...)...)
}

// StrengthenViscous is strengthening first and viscous dampers on what results.
// The demand is that of dampers on the stronger and stiffer frame, which the
// demand formulas take as they take any other.
type StrengthenViscous struct {
	screening
	opt StrengthenViscousOptions
}

// NewStrengthenViscous returns the measure, for options that Validate accepts.
func NewStrengthenViscous(o StrengthenViscousOptions) *StrengthenViscous {
	return &StrengthenViscous{newScreening("strengthen-viscous", o.Rules, o.Price, o.Disruption), o}
}

// Evaluate finds the least factor on strength that reaches the strength ratio and
// then the least damping that reaches the drift.
func (m *StrengthenViscous) Evaluate(w *Work, c *Case, out *Outcome) {
	if !m.begin(m, w, c, out) {
		return
	}
	factor := m.opt.Strengthen.find(w, c)
	w.Demand.AsIs(&w.stick, &c.Site.Spectra[c.Design], &w.trial)
	d := m.opt.Viscous.find(w, &w.stick, c, w.trial.Roof)
	levels := out.levels(len(c.Site.Spectra))
	for i := range levels {
		w.Demand.Viscous(&w.stick, &c.Site.Spectra[i], d, &levels[i])
	}
	w.Built.damped(&w.stick, d)
	walls := m.opt.Strengthen.report(w, c, out, factor)
	devices := m.opt.Viscous.report(w, &w.stick, out, &levels[c.Design])
	m.finish(w, c, out, Amounts{Devices: devices, Wall: walls})
}
