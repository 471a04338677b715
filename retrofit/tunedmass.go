package retrofit

import (
	"math"
	"slices"
	"strings"

	"plinth/hazard"
	"plinth/retrofit/demand"
)

var tunedMassKind = Kind{
	Slug: "tuned-mass", Name: "a tuned mass on the roof",
	Does: "A mass on springs and dampers, tuned to the building, sways against it and takes " +
		"energy from its first mode.",
	Cannot: "Once the frame yields its period leaves that of the mass and the gain is gone; it " +
		"does nothing for the other modes. Its benefit in wind is not counted.",
	Rules: []string{
		"soft-site", "not-flexible", "yields", "one-mode", "acceleration-ordinary", "acceleration-sensitive",
		"acceleration-fragile", "small-mass", "mistuned", "roof-load", "stroke", "mass-force", "more-drift",
		"little-gain", "unsettled",
	},
	Mark:    Mark{Shape: Cross, Colour: purple},
	Options: defaults(DefaultTunedMassOptions),
}

// TunedMassOptions is the design range and price of a tuned mass on the roof.
type TunedMassOptions struct {
	// tuned mass over that of the first mode, at most
	MassRatio float64 `toml:"mass_ratio" min:"0.001" max:"0.5"`
	// load the roof can be given
	RoofAllowance float64 `toml:"roof_allowance_pa" unit:"Pa" min:"1" max:"1e5"`
	// what it is tuned for: earthquake is what the demand was compared at (Sadek 1997), noise and harmonic at
	// the base or as a force the tunings of Warburton (1982) and Den Hartog (1956)
	Tuning string `toml:"tuning" choices:"earthquake|noise-base|harmonic-base|noise-force|harmonic-force"`
	// cost of a tuned mass
	Price Price `toml:"price" without:"per_m_moat per_m_wall"`
	// weeks of works
	Disruption Disruption `toml:"disruption"`
}

// DefaultTunedMassOptions returns a mass ratio of 5 %, the upper end of ordinary practice, a
// roof allowance of 2.4 kPa (a strengthened roof), the tuning of Sadek and others 1997 and
// prices (all judgement).
func DefaultTunedMassOptions() TunedMassOptions {
	return TunedMassOptions{
		MassRatio: 0.05, RoofAllowance: 2.4e3, Tuning: excitationWords[demand.Earthquake],
		Price:      Price{Fixed: 80e3, PerArea: 30, PerDevice: 150e3, LowRatio: 0.7, HighRatio: 1.7},
		Disruption: Disruption{Fixed: 6, PerThousand: 0.5, LongestWeeks: 26},
	}
}

// Validate returns all invalid options, joined.
func (o *TunedMassOptions) Validate() error {
	return check("tuned-mass", append(o.Price.faults(),
		fault{o.MassRatio > 0 && o.MassRatio <= 0.5, "mass ratio must lie above 0, up to 0.5"},
		fault{slices.Contains(excitationWords[:], o.Tuning), "tuning must be one of " +
			strings.Join(excitationWords[:], ", ")},
		fault{o.RoofAllowance > 0, "roof allowance must be positive"})...)
}

// excitationWords are the words for a tuning in plans, in the order of demand.Excitation.
var excitationWords = [...]string{"earthquake", "noise-base", "harmonic-base", "noise-force",
	"harmonic-force"}

// TunedMass is a mass on the roof tuned to the first mode.
type TunedMass struct {
	screening
	opt   TunedMassOptions
	tuned demand.Excitation
}

func (o *TunedMassOptions) measure(Set) Measure { return NewTunedMass(*o) }

// NewTunedMass returns the measure, for valid options.
func NewTunedMass(o TunedMassOptions) *TunedMass {
	e := demand.Excitation(slices.Index(excitationWords[:], o.Tuning))
	return &TunedMass{newScreening(&tunedMassKind, o.Price, o.Disruption), o, e}
}

// Evaluate takes the mass of MassRatio, or the most that the roof may carry, tunes it and
// computes the demand.
func (m *TunedMass) Evaluate(w *Work, c *Case, out *Outcome) {
	if !m.begin(m, w, c, out) {
		return
	}
	modal, area := c.Stick.ModalMass(), c.Facts.footprint()
	mass := m.opt.MassRatio * modal
	if room := m.opt.RoofAllowance * area / hazard.Gravity; room < mass {
		mass = room
	}
	w.mass = demand.TunedMass{Mass: mass, For: m.tuned}
	var found demand.TunedTrace // at the design level
	levels := out.levels(len(c.Site.Spectra))
	for i := range levels {
		w.Demand.TunedMass(c.Stick, &c.Site.Spectra[i], w.mass, &levels[i])
		if i == c.Design {
			found = w.Demand.Trace.TunedMass
		}
	}
	w.Built = Built{c.Stick, &w.mass}
	w.values[massRatio] = mass / modal
	if math.IsNaN(area) {
		w.values[massRatio] = area
	}
	w.values[roofLoad] = mass * hazard.Gravity / area / 1e3
	w.values[stroke], w.values[tunedLeft] = found.Stroke, found.Left
	w.values[massForceShare] = found.Force / c.Stick.Strength[c.Stick.N()-1]
	out.size("tuned mass", mass/1e3, "t")
	out.size("mass over that of the first mode", mass/modal, "")
	out.size("load on the roof", w.values[roofLoad], "kPa")
	out.size("period of the mass", c.Stick.Modes.Period[0]/found.Tuning.Frequency, "s")
	out.size("damping of the mass", found.Tuning.Damping, "")
	out.size("stroke", found.Stroke, "m")
	out.size("force of the mass on the roof", found.Force/1e3, "kN")
	out.size("added damping left at 15 % mistuning", found.Left, "")
	m.finish(w, c, out, Amounts{Devices: 1})
}
