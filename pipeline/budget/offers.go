package budget

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sync"

	"plinth/pipeline/assess"
	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
	"plinth/retrofit"
)

// A building holds the feasible measures of one building.
type building struct {
	id, name  string
	lon, lat  float64
	occupants float64
	offers    []offer
}

// An offer is one measure of a building.
type offer struct {
	measure string
	cost    retrofit.Cost
	weeks   float64
	verdict string
	net     float64
	parts   ranking.Parts
}

// Gain returns the value of a measure in a programme: its score less that of doing nothing, or
// for the objective benefit:cost its benefit, since ratios do not add up.
func Gain(o *ranking.Objective, p *ranking.Parts) float64 {
	if o == ranking.BenefitCost {
		return p.Benefit
	}
	return o.Score(p) - o.None
}

// An offerCollector collects the buildings of one worker with their offers.
type offerCollector struct {
	a     *assess.Assessment
	all   *[]building
	tally *output.Counts
	lock  *sync.Mutex
}

func (b *offerCollector) Reject(*inventory.Reject) {
	b.lock.Lock()
	defer b.lock.Unlock()
	b.tally.In++
	b.tally.Rejected++
}

func (b *offerCollector) Visit(h *inventory.Building) error {
	err := b.a.Assess(h)
	b.lock.Lock()
	defer b.lock.Unlock()
	b.tally.In++
	if err != nil {
		b.tally.Rejected++
		return nil
	}
	b.tally.Out++
	c := building{id: h.ID, name: h.Name, lon: h.Lon, lat: h.Lat,
		occupants: max(h.OccupantsDay, h.OccupantsNight)}
	for i := range b.a.Options {
		if o := &b.a.Options[i]; b.a.Choosable(o) && !math.IsNaN(o.Cost.Likely) {
			c.offers = append(c.offers, offer{o.Measure.Slug(), o.Cost, o.Weeks, o.Verdict.String(),
				o.Benefits[0].Net, o.Parts})
		}
	}
	*b.all = append(*b.all, c)
	return nil
}

// collect assesses the register and returns every building with its offers, in
// the order of ids.
func collect(ctx context.Context, study *assess.Study, s assess.Settings) ([]building, output.Counts, error) {
	var all []building
	var counts output.Counts
	var lock sync.Mutex
	reader, err := study.Register(ctx)
	if err != nil {
		return nil, counts, err
	}
	defer reader.Close()
	visit := func() assess.Visitor { return &offerCollector{study.NewAssessment(), &all, &counts, &lock} }
	err = study.Flow(ctx, reader, s.Goroutines(), visit, s.Progress.Watch("buildings"))
	slices.SortFunc(all, func(x, y building) int { return cmp.Compare(x.id, y.id) })
	return all, counts, err
}

// prospects returns the offers under an objective and the terms.
func prospects(all []building, o *ranking.Objective, t *terms) []ranking.Prospect {
	out := make([]ranking.Prospect, len(all))
	for i := range all {
		c := &all[i]
		out[i] = ranking.Prospect{ID: c.id, Must: t.must[c.id], Latest: t.latest[c.id], Group: t.group[c.id]}
		for k := range c.offers {
			b := &c.offers[k]
			g := Gain(o, &b.parts)
			if t.cannot[c.id] || math.IsNaN(g) {
				continue
			}
			out[i].Offers = append(out[i].Offers,
				ranking.Offer{Measure: b.measure, Cost: b.cost.Likely, Gain: g, Load: c.displaced(b)})
		}
	}
	return out
}

// displaced returns the people to be housed elsewhere times the years of works.
func (c *building) displaced(b *offer) float64 {
	v := c.occupants * b.weeks / 52
	if math.IsNaN(v) {
		return 0
	}
	return v
}

// offer returns the offer of a measure.
func (c *building) offer(measure string) *offer {
	i := slices.IndexFunc(c.offers, func(b offer) bool { return b.measure == measure })
	return &c.offers[i]
}
