package retrofit

import "plinth/retrofit/demand"

// LeadRubberStrengthenOptions is the design range and price of isolation with a
// strengthened building above. Its parts give the ranges; their prices,
// disruption and rules, and the target of the strengthening, are not used.
type LeadRubberStrengthenOptions struct {
	LeadRubber LeadRubberOptions `toml:"lead-rubber" doc:"range of the isolation"`
	Strengthen StrengthenOptions `toml:"strengthen" doc:"range of the walls or braces"`
	FrameUse   float64           `toml:"frame_use" min:"0.1" max:"1" doc:"demand over strength to leave in the building above the isolators"`
	Price      Price             `toml:"price" doc:"cost of both"`
	Disruption Disruption        `toml:"disruption" doc:"weeks of both"`

	Rules Rules `toml:"-"` // nil for DefaultRules
}

// DefaultLeadRubberStrengthenOptions returns the defaults of the parts, a frame
// used to 70 %, which the rules call clear, and prices (judgement).
func DefaultLeadRubberStrengthenOptions() LeadRubberStrengthenOptions {
	o := LeadRubberStrengthenOptions{
		LeadRubber: DefaultLeadRubberOptions(), Strengthen: DefaultStrengthenOptions(), FrameUse: 0.7,
		Disruption: Disruption{Fixed: 12, PerThousand: 10, LongestWeeks: 104},
	}
	o.Price = o.LeadRubber.Price
	o.Price.PerArea += o.Strengthen.Price.PerArea
	o.Price.PerWall = o.Strengthen.Price.PerWall
	return o
}

// Validate returns all that is impossible in the options, joined.
func (o *LeadRubberStrengthenOptions) Validate() error {
	f := append(o.Price.faults(), o.LeadRubber.faults()...)
	return check("lead-rubber-strengthen", append(append(f, o.Strengthen.faults()...),
		fault{ratio(o.FrameUse), "frame use must lie above 0, up to 1"})...)
}

// LeadRubberStrengthen is isolation of a building that is too weak to stand above
// isolators as it is: strengthened as little as will do, then isolated. The demand
// is that of isolation below the stronger and stiffer frame.
type LeadRubberStrengthen struct {
	isolating
	strengthen StrengthenOptions
	use        float64
}

// NewLeadRubberStrengthen returns the measure, for options that Validate accepts.
func NewLeadRubberStrengthen(o LeadRubberStrengthenOptions) *LeadRubberStrengthen {
	m := &LeadRubberStrengthen{NewLeadRubber(o.LeadRubber).isolating, o.Strengthen, o.FrameUse}
	m.screening = newScreening("lead-rubber-strengthen", o.Rules, o.Price, o.Disruption)
	return m
}

// Evaluate finds the least factor on strength, in steps of 0.1, with which the best isolation
// design uses the frame no further than it may, or the largest factor.
func (m *LeadRubberStrengthen) Evaluate(w *Work, c *Case, out *Outcome) {
	if !m.begin(m, w, c, out) {
		return
	}
	const step = 0.1
	low, high := -1, int((m.strengthen.MaxFactor-1)/step+1e-9) // low fails, high is taken to do
	for high-low > 1 {
		n := (low + high) / 2
		m.strengthened(w, c, 1+step*float64(n), c.Design, c.Design+1)
		if best, _ := m.search(w, &w.stronger); best.FrameUse <= m.use {
			high = n
		} else {
			low = n
		}
	}
	factor := 1 + step*float64(high)
	m.strengthened(w, c, factor, 0, len(c.Site.Spectra))
	isolators := m.assemble(w, &w.stronger, out)
	walls := m.strengthen.report(w, c, out, factor)
	m.finish(w, c, out, Amounts{Devices: isolators, Moat: c.Facts.perimeter(), Wall: walls})
}

// strengthened makes w.stronger the case of c with its strength times factor, with
// its own demand before isolation at the levels from first to before end.
func (m *LeadRubberStrengthen) strengthened(w *Work, c *Case, factor float64, first, end int) {
	w.strengthen(c.Stick, factor)
	asIs := w.stronger.AsIs
	for len(asIs) < len(c.Site.Spectra) {
		asIs = append(asIs, demand.Response{})
	}
	w.stronger = *c
	w.stronger.Stick, w.stronger.AsIs = &w.stick, asIs
	for i := first; i < end; i++ {
		w.Demand.AsIs(&w.stick, &c.Site.Spectra[i], &asIs[i])
	}
}
