package retrofit

import (
	"math"

	"plinth/archetypes"
	"plinth/retrofit/demand"
)

var strengthenKind = Kind{
	Slug: "strengthen", Name: "strengthening",
	Does:   "New walls or braces raise strength and stiffness: drift and damage to the frame fall.",
	Cannot: "A stiffer building shakes its contents harder; walls need footings and close openings.",
	Rules: []string{
		"brittle-columns", "heritage", "target-strength", "nothing-to-strengthen", "added-weight",
		"foundations", "acceleration-ordinary", "acceleration-sensitive", "acceleration-fragile",
		"little-gain", "unsettled",
	},
	Mark:    Mark{Shape: Triangle, Colour: vermillion},
	Options: defaults(DefaultStrengthenOptions),
}

// StrengthenOptions is the design range and price of added walls or braces.
type StrengthenOptions struct {
	// elastic demand over strength to reach at the design level
	TargetStrengthRatio float64 `toml:"target_strength_ratio" min:"0.2" max:"100"`
	// strength after over before, at most
	MaxFactor float64 `toml:"max_factor" min:"1.05" max:"10"`
	// shear strength of a metre of new wall or braced bay
	WallStrength float64 `toml:"wall_strength_n_per_m" unit:"N/m" min:"1e4" max:"1e7"`
	// weight of new wall over its face
	WallWeight float64 `toml:"wall_weight_pa" unit:"Pa" min:"0" max:"1e5"`
	// cost of strengthening
	Price Price `toml:"price" without:"per_device per_m_moat"`
	// weeks of strengthening works
	Disruption Disruption `toml:"disruption"`
}

// DefaultStrengthenOptions returns a target strength ratio of 1.5, at most threefold strength,
// walls of 250 mm concrete at 2 MPa in shear, 6.25 kPa, and prices (all judgement).
func DefaultStrengthenOptions() StrengthenOptions {
	return StrengthenOptions{
		TargetStrengthRatio: 1.5, MaxFactor: 3,
		WallStrength: 500e3, WallWeight: 6.25e3,
		Price:      Price{Fixed: 40e3, PerArea: 80, PerWall: 2500, LowRatio: 0.7, HighRatio: 1.6},
		Disruption: Disruption{Fixed: 8, PerThousand: 8, LongestWeeks: 104},
	}
}

// Validate returns all invalid options, joined.
func (o *StrengthenOptions) Validate() error { return check("strengthen", o.faults()...) }

func (o *StrengthenOptions) faults() []fault {
	return append(o.Price.faults(),
		fault{o.TargetStrengthRatio > 0, "target strength ratio must be positive"},
		fault{o.MaxFactor > 1, "max factor must be above 1"},
		fault{o.WallStrength > 0, "wall strength must be positive"},
		fault{o.WallWeight >= 0, "wall weight must not be negative"},
	)
}

// Strengthen adds walls or braces that raise strength by one factor in every storey, and
// stiffness with it (demand.StiffnessFactor). The added weight is reported but not part of the
// demand; above a tenth a rule doubts it.
type Strengthen struct {
	screening
	opt StrengthenOptions
}

func (o *StrengthenOptions) measure(Set) Measure { return NewStrengthen(*o) }

// NewStrengthen returns the measure, for valid options.
func NewStrengthen(o StrengthenOptions) *Strengthen {
	return &Strengthen{newScreening(&strengthenKind, o.Price, o.Disruption), o}
}

// Evaluate finds the least factor on strength, in steps of 0.05, that brings the strength ratio
// at the design level to its target. The period shortens with the factor, so each is computed
// anew.
func (m *Strengthen) Evaluate(w *Work, c *Case, out *Outcome) {
	if !m.begin(m, w, c, out) {
		return
	}
	factor := m.opt.find(w, c)
	out.StrengthFactor = factor
	levels := out.levels(len(c.Site.Spectra))
	for i := range levels {
		w.Demand.AsIs(&w.stick, &c.Site.Spectra[i], &levels[i])
	}
	w.values[strengthRatioOverTarget] = levels[c.Design].Ductility / m.opt.TargetStrengthRatio
	w.Built = Built{Stick: &w.stick}
	walls := m.opt.report(w, c, out, factor)
	m.finish(w, c, out, Amounts{Wall: walls})
}

// find returns the least factor that reaches the target, or the largest. The building
// strengthened by it is then in w.stick.
func (o *StrengthenOptions) find(w *Work, c *Case) float64 {
	const step = 0.05
	at := func(n int) float64 { return min(1+step*float64(n), o.MaxFactor) }
	low, high := -1, int(math.Ceil((o.MaxFactor-1)/step-1e-9)) // low fails, high is assumed to be enough
	for high-low > 1 {
		n := (low + high) / 2
		w.strengthen(c.Stick, at(n))
		w.Demand.AsIs(&w.stick, &c.Site.Spectra[c.Design], &w.trial)
		if w.trial.Ductility <= o.TargetStrengthRatio {
			high = n
		} else {
			low = n
		}
	}
	w.strengthen(c.Stick, at(high))
	return at(high)
}

// strengthen sets w.stick to a copy of st with strength times factor. The factor on stiffness
// is the same for all storeys: mode shapes stay and periods shorten by its root.
func (w *Work) strengthen(st *archetypes.Stick, factor float64) {
	s := demand.Strengthening{Stiffness: w.stick.Stiffness, Strength: w.stick.Strength}
	s.Scale(st, factor)
	w.stick = *st
	w.stick.Stiffness, w.stick.Strength = s.Stiffness, s.Strength
	shorter := math.Sqrt(demand.StiffnessFactor(factor))
	for j := range w.stick.Modes.Count {
		w.stick.Modes.Period[j] /= shorter
	}
}

// report records the sizes of the walls, sets the criteria of their rules, and returns the
// metres of wall in all storeys and both directions. The length in one storey and direction is
// the added strength over WallStrength.
func (o *StrengthenOptions) report(w *Work, c *Case, out *Outcome, factor float64) (metres float64) {
	var weight float64
	for i, v := range c.Stick.Strength {
		l := 2 * (factor - 1) * v / o.WallStrength
		metres += l
		weight += l * c.Stick.Height[i] * o.WallWeight
	}
	w.values[strengthFactor] = factor
	w.values[addedWeight] = weight / c.Weight()
	added := (factor - 1) * c.Stick.Strength[0]
	out.size("strength factor", factor, "")
	out.size("strength added at the foot", added/1e3, "kN")
	out.size("new wall at the foot in each direction", added/o.WallStrength, "m")
	out.size("new wall in all", metres, "m")
	out.size("new period", w.stick.Modes.Period[0], "s")
	out.size("weight added over weight", w.values[addedWeight], "")
	return metres
}
