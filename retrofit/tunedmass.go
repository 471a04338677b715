package retrofit

import (
	"math"

	"plinth/hazard"
	"plinth/retrofit/demand"
)

// TunedMassOptions is the design range and price of a tuned mass on the roof.
type TunedMassOptions struct {
	MassRatio     float64    `toml:"mass_ratio" min:"0.001" max:"0.5" doc:"tuned mass over that of the first mode, at most"`
	RoofAllowance float64    `toml:"roof_allowance_pa" unit:"Pa" min:"1" max:"1e5" doc:"load the roof can be given"`
	Price         Price      `toml:"price" doc:"cost of a tuned mass"`
	Disruption    Disruption `toml:"disruption" doc:"weeks of works"`

	Rules Rules `toml:"-"` // nil for DefaultRules
}

// DefaultTunedMassOptions returns a mass ratio of 5 %, the upper end of ordinary
// practice, a roof allowance of 2.4 kPa (a strengthened roof) and prices (all
// judgement). That the period may be misjudged is not looked at.
func DefaultTunedMassOptions() TunedMassOptions {
	return TunedMassOptions{
		MassRatio: 0.05, RoofAllowance: 2.4e3,
		Price:      Price{Fixed: 80e3, PerArea: 30, PerDevice: 150e3, LowRatio: 0.7, HighRatio: 1.7},
		Disruption: Disruption{Fixed: 6, PerThousand: 0.5, LongestWeeks: 26},
	}
}

// Validate returns all that is impossible in the options, joined.
func (o *TunedMassOptions) Validate() error {
	return check("tuned-mass", append(o.Price.faults(),
		fault{o.MassRatio > 0 && o.MassRatio <= 0.5, "mass ratio must lie above 0, up to 0.5"},
		fault{o.RoofAllowance > 0, "roof allowance must be positive"})...)
}

// TunedMass is a mass on the roof tuned to the first mode.
type TunedMass struct {
	screening
	opt TunedMassOptions
}

// NewTunedMass returns the measure, for options that Validate accepts.
func NewTunedMass(o TunedMassOptions) *TunedMass {
	return &TunedMass{newScreening("tuned-mass", o.Rules, o.Price, o.Disruption), o}
}

// Evaluate takes the mass of MassRatio, or as much as the roof may be loaded
// with, tunes it after Sadek and others 1997 and reads the demand.
func (m *TunedMass) Evaluate(w *Work, c *Case, out *Outcome) {
	if !m.begin(m, w, c, out) {
		return
	}
	modal, area := modalMass(c), c.Facts.footprint()
	mass := m.opt.MassRatio * modal
	if room := m.opt.RoofAllowance * area / hazard.Gravity; room < mass {
		mass = room
	}
	var found demand.TunedTrace // at the design level
	levels := out.levels(len(c.Site.Spectra))
	for i := range levels {
		w.Demand.TunedMass(c.Stick, &c.Site.Spectra[i], demand.TunedMass{Mass: mass}, &levels[i])
		if i == c.Design {
			found = w.Demand.Trace.TunedMass
		}
	}
	w.values[massRatio] = mass / modal
	if math.IsNaN(area) {
		w.values[massRatio] = area
	}
	w.values[roofLoad] = mass * hazard.Gravity / area / 1e3
	w.values[stroke] = found.Stroke
	out.size("tuned mass", mass/1e3, "t")
	out.size("mass over that of the first mode", mass/modal, "")
	out.size("load on the roof", w.values[roofLoad], "kPa")
	out.size("period of the mass", c.Stick.Modes.Period[0]/found.Tuning.Frequency, "s")
	out.size("damping of the mass", found.Tuning.Damping, "")
	out.size("stroke", found.Stroke, "m")
	m.finish(w, c, out, Amounts{Devices: 1})
}

// modalMass returns sum(m phi1^2) in kg, the mass of the first mode at the roof.
func modalMass(c *Case) float64 {
	var sum float64
	for i, m := range c.Stick.Mass {
		phi := c.Stick.Modes.Shape[0][i]
		sum += m * phi * phi
	}
	return sum
}
