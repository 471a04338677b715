package retrofit

import "plinth/retrofit/demand"

var leadRubberStrengthenKind = Kind{
	Slug: "lead-rubber-strengthen", Name: "isolation on lead-rubber bearings with strengthening",
	Does: "As isolation, with new walls or braces in the building above where it is too weak to " +
		"stay whole on its bearings.",
	Cannot: "It has the limits of isolation, and the works of strengthening in occupied floors.",
	Rules: append([]string{
		"bearing-diameter", "bearing-shape", "brittle-columns", "heritage", "nothing-to-strengthen",
		"added-weight",
	}, isolationRules...),
	Mark:    Mark{Shape: Square, Hollow: true, Colour: blue},
	Parts:   []string{"lead-rubber", "strengthen"},
	Options: defaults(DefaultLeadRubberStrengthenOptions),
}

// LeadRubberStrengthenOptions are the options of isolation with a strengthened building above.
// All others are those of LeadRubberOptions and StrengthenOptions, whose target is not used.
type LeadRubberStrengthenOptions struct {
	// demand over strength to leave in the building above the isolators
	FrameUse float64 `toml:"frame_use" min:"0.1" max:"1"`
	// cost of both; what is not written here follows [measures.lead-rubber.price] and
	// [measures.strengthen.price]
	Price Price `toml:"price"`
	// weeks of both; what is not written here follows the parts
	Disruption Disruption `toml:"disruption"`
}

// DefaultLeadRubberStrengthenOptions returns a frame used to 70 %, for which the rules are
// clear, and the price and weeks of the parts.
func DefaultLeadRubberStrengthenOptions() LeadRubberStrengthenOptions {
	return LeadRubberStrengthenOptions{FrameUse: 0.7, Price: priceOfParts, Disruption: disruptionOfParts}
}

// leadRubberStrengthenSharing: bearings and walls stand in different storeys, so no opening
// serves both (judgement).
var leadRubberStrengthenSharing = sharing{fixed: 0.8, area: 1, weeks: 0.85}

// Validate returns all invalid options, joined. Values taken from the parts are validated
// there.
func (o *LeadRubberStrengthenOptions) Validate() error {
	return check("lead-rubber-strengthen", append(o.Price.faultsOfItsOwn(),
		fault{ratio(o.FrameUse), "frame use must lie above 0, up to 1"})...)
}

func (o *LeadRubberStrengthenOptions) measure(s Set) Measure {
	return NewLeadRubberStrengthen(*o, *s["lead-rubber"].(*LeadRubberOptions),
		*s["strengthen"].(*StrengthenOptions))
}

// LeadRubberStrengthen is isolation of a building too weak to stand above isolators as it is.
// The building is strengthened as little as necessary, then isolated. The demand is that of
// isolation below the stronger and stiffer frame.
type LeadRubberStrengthen struct {
	isolating
	strengthen StrengthenOptions
	use        float64
}

// NewLeadRubberStrengthen returns the measure, for valid options.
func NewLeadRubberStrengthen(o LeadRubberStrengthenOptions, isolation LeadRubberOptions,
	strengthen StrengthenOptions) *LeadRubberStrengthen {
	price := o.Price.or(leadRubberStrengthenSharing.price(isolation.Price, strengthen.Price))
	weeks := o.Disruption.or(leadRubberStrengthenSharing.disruption(isolation.Disruption,
		strengthen.Disruption))
	m := &LeadRubberStrengthen{NewLeadRubber(isolation).isolating, strengthen, o.FrameUse}
	m.screening = newScreening(&leadRubberStrengthenKind, price, weeks)
	return m
}

// Evaluate finds the least factor on strength, in steps of 0.1, with which the best isolation
// design uses the frame no further than allowed, or the largest factor.
func (m *LeadRubberStrengthen) Evaluate(w *Work, c *Case, out *Outcome) {
	if !m.begin(m, w, c, out) {
		return
	}
	const step = 0.1
	low, high := -1, int((m.strengthen.MaxFactor-1)/step+1e-9) // low fails, high is assumed to be enough
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

// strengthened sets w.stronger to the case of c with its strength times factor, and its own
// demand before isolation at levels from first to before end.
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
