package budget

import (
	"cmp"
	"context"
	"math"
	"slices"

	"plinth/pipeline/assess"
	"plinth/pipeline/assessed"
	"plinth/pipeline/inventory"
	"plinth/pipeline/ranking"
)

// Gain returns the value of a measure in a programme: its score less that of doing nothing, or
// for the objective benefit:cost its benefit, since ratios do not add up.
func Gain(o *ranking.Objective, p *ranking.Parts) float64 {
	if o == ranking.BenefitCost {
		return p.Benefit
	}
	return o.Score(p) - o.None
}

// A stock gives the prospects of the buildings of a screening. Of a building it keeps in memory
// what the choice among all buildings needs and no more: the id, and the cost, the gain and the
// load of each measure that gains something. All else is read again when it is written.
type stock struct {
	*assessed.Stock
	study *assess.Study
}

// openStock opens what the last screening of the study left.
func openStock(study *assess.Study, s assess.Settings) (*stock, error) {
	left, err := assessed.Open(study, s.Version)
	return &stock{left, study}, err
}

// underTerms returns the prospects under the objective and the terms of the plan.
func (s *stock) underTerms(ctx context.Context) ([]ranking.Prospect, error) {
	t := readTerms(s.study)
	list, err := s.prospects(ctx, s.study.Objective(), t)
	if err == nil {
		err = t.problems(s.study)
	}
	return list, err
}

// prospects returns the offers of every building under an objective and the terms, in the order
// of ids. It marks the buildings that the terms name.
func (s *stock) prospects(ctx context.Context, o *ranking.Objective, t *terms) ([]ranking.Prospect, error) {
	out := make([]ranking.Prospect, 0, s.Counts.Out)
	var offers []ranking.Offer
	err := s.Each(ctx, func(d *assess.Digest) error {
		t.meet(d.Building.ID)
		p := ranking.Prospect{ID: d.Building.ID}
		p.Must, p.Latest, p.Group = t.must[p.ID], t.latest[p.ID], t.group[p.ID]
		offers = s.offers(offers[:0], d, o, t)
		if len(offers) > 0 {
			p.Offers = append(make([]ranking.Offer, 0, len(offers)), offers...)
		}
		out = append(out, p)
		return nil
	})
	slices.SortFunc(out, func(x, y ranking.Prospect) int { return cmp.Compare(x.ID, y.ID) })
	return out, err
}

// offers appends the offers of a building to list: those that gain something, or all where one
// of them must be taken.
func (s *stock) offers(list []ranking.Offer, d *assess.Digest, o *ranking.Objective,
	t *terms) []ranking.Offer {
	for i := range d.Offers {
		b := &d.Offers[i]
		g := Gain(o, &b.Parts)
		if math.IsNaN(b.Cost.Likely) || math.IsNaN(g) || t.cannot[d.Building.ID] ||
			g <= 0 && !t.must[d.Building.ID] {
			continue
		}
		list = append(list, ranking.Offer{Measure: s.study.Measures()[b.Measure].Slug(), Cost: b.Cost.Likely,
			Gain: g, Load: displaced(&d.Building, b)})
	}
	return list
}

// displaced returns the people to be housed elsewhere times the years of works.
func displaced(b *inventory.Building, o *assess.Offer) float64 {
	v := max(b.OccupantsDay, b.OccupantsNight) * o.Weeks / 52
	if math.IsNaN(v) {
		return 0
	}
	return v
}
