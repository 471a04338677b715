package retrofit

var strengthenViscousKind = Kind{
	Slug: "strengthen-viscous", Name: "strengthening with viscous dampers",
	Does: "Part of the drift is taken by new walls or braces, part by dampers, so that floors " +
		"shake less than with strengthening alone.",
	Cannot: "It has the limits of both; walls leave the dampers less movement to work on.",
	Rules: []string{
		"no-frame", "brittle-columns", "heritage", "brace-damping", "target-drift", "damper-force",
		"nothing-to-strengthen", "added-weight", "foundations", "more-drift",
		"acceleration-ordinary", "acceleration-sensitive", "acceleration-fragile", "little-gain", "unsettled",
	},
	Mark:    Mark{Shape: Triangle, Hollow: true, Colour: vermillion},
	Parts:   []string{"strengthen", "viscous"},
	Options: defaults(DefaultStrengthenViscousOptions),
}

// StrengthenViscousOptions are the options of new walls or braces together with viscous
// dampers. All others are those of StrengthenOptions and ViscousOptions.
type StrengthenViscousOptions struct {
	// elastic demand over strength that walls or braces are to reach at the design level, in place of that of
	// strengthen
	TargetStrengthRatio float64 `toml:"target_strength_ratio" min:"0.2" max:"100"`
	// strength after over before, at most, in place of that of strengthen
	MaxFactor float64 `toml:"max_factor" min:"1.05" max:"10"`
	// cost of both; what is not written here follows [measures.strengthen.price] and [measures.viscous.price]
	Price Price `toml:"price" without:"per_m_moat"`
	// weeks of both; what is not written here follows the parts
	Disruption Disruption `toml:"disruption"`
}

// DefaultStrengthenViscousOptions returns a milder strengthening than that of the measure
// alone, to a strength ratio of 2.5 with at most twofold strength (judgement), and the price
// and weeks of the parts.
func DefaultStrengthenViscousOptions() StrengthenViscousOptions {
	return StrengthenViscousOptions{TargetStrengthRatio: 2.5, MaxFactor: 2, Price: priceOfParts,
		Disruption: disruptionOfParts}
}

// strengthenViscousSharing: both stand in the same bays, which are opened once (judgement).
var strengthenViscousSharing = sharing{fixed: 0.8, area: 0.7, weeks: 0.8}

// Validate returns all invalid options, joined. Values taken from the parts are validated
// there.
func (o *StrengthenViscousOptions) Validate() error {
	return check("strengthen-viscous", append(o.Price.faultsOfItsOwn(),
		fault{o.TargetStrengthRatio > 0, "target strength ratio must be positive"},
		fault{o.MaxFactor > 1, "max factor must be above 1"})...)
}

func (o *StrengthenViscousOptions) measure(s Set) Measure {
	return NewStrengthenViscous(*o, *s["strengthen"].(*StrengthenOptions), *s["viscous"].(*ViscousOptions))
}

// StrengthenViscous strengthens first and adds viscous dampers to the result. The demand is
// that of dampers on the stronger and stiffer frame.
type StrengthenViscous struct {
	screening
	strengthen StrengthenOptions
	viscous    ViscousOptions
}

// NewStrengthenViscous returns the measure, for valid options.
func NewStrengthenViscous(o StrengthenViscousOptions, strengthen StrengthenOptions,
	viscous ViscousOptions) *StrengthenViscous {
	price := o.Price.or(strengthenViscousSharing.price(strengthen.Price, viscous.Price))
	weeks := o.Disruption.or(strengthenViscousSharing.disruption(strengthen.Disruption, viscous.Disruption))
	strengthen.TargetStrengthRatio, strengthen.MaxFactor = o.TargetStrengthRatio, o.MaxFactor
	return &StrengthenViscous{newScreening(&strengthenViscousKind, price, weeks), strengthen, viscous}
}

// Evaluate finds the least factor on strength that reaches the strength ratio and
// then the least damping that reaches the drift.
func (m *StrengthenViscous) Evaluate(w *Work, c *Case, out *Outcome) {
	if !m.begin(m, w, c, out) {
		return
	}
	factor := m.strengthen.find(w, c)
	w.Demand.AsIs(&w.stick, &c.Site.Spectra[c.Design], &w.trial)
	d := m.viscous.find(w, &w.stick, c, w.trial.Roof)
	levels := out.levels(len(c.Site.Spectra))
	for i := range levels {
		w.Demand.Viscous(&w.stick, &c.Site.Spectra[i], d, &levels[i])
	}
	w.viscous = d
	w.Built = Built{&w.stick, &w.viscous}
	walls := m.strengthen.report(w, c, out, factor)
	devices := m.viscous.report(w, c, &w.stick, out)
	m.finish(w, c, out, Amounts{Devices: devices, Wall: walls})
}
