package pipeline

import (
	"context"
	"errors"
	"math"

	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
)

// rank reads the buildings in one order after the other (by annual loss as they
// stand, in which they were sorted first, then by each objective that is not the
// plan's), notes their places, and leaves them sorted by the plan's.
func (s *sink) rank(ctx context.Context) error {
	note := func(b *output.Building, place int64) { b.RankAsIs = place }
	for k, o := range ranking.Objectives() {
		if o == s.run.objective {
			continue
		}
		if err := s.resort(ctx, note, func(b *output.Building) float64 { return b.Scores[k] }); err != nil {
			return err
		}
		note = func(b *output.Building, place int64) { b.Ranks[k] = place }
	}
	return s.resort(ctx, note, func(b *output.Building) float64 { return b.Score })
}

// resort notes the place of each building in the present order and sorts them anew
// by score, the largest first, equal scores by annual loss and then by id.
func (s *sink) resort(ctx context.Context, note func(*output.Building, int64), score func(*output.Building) float64) error {
	next := ranking.NewSorter(s.options)
	var place int64
	var key, payload []byte
	err := each(ctx, s.buildings, &output.Buildings, func(b *output.Building) error {
		place++
		note(b, place)
		key = ranking.AppendDescending(key[:0], score(b))
		key = ranking.AppendDescending(key, b.AnnualLoss)
		key = ranking.AppendString(key, b.ID)
		payload = output.Buildings.AppendRow(payload[:0], b)
		return next.Add(key, payload)
	})
	err = errors.Join(err, s.buildings.Close())
	s.buildings = next
	return err
}

// shortlist returns the ids of the first buildings where the stock is too large to
// be sampled whole, nil where it is not.
func (s *sink) shortlist(ctx context.Context) (map[string]bool, error) {
	most := int64(s.run.plan.Uncertainty.Shortlist)
	if s.run.plan.Uncertainty.Draws == 0 || s.nOut.Load() <= most {
		return nil, nil
	}
	only := make(map[string]bool, most)
	err := s.resort(ctx, func(b *output.Building, place int64) {
		if place <= most {
			only[b.ID] = true
		}
	}, func(b *output.Building) float64 { return b.Score })
	return only, err
}

// naiveOrders gathers the scores of the orders the rank is held against.
type naiveOrders struct{ rank, oldest, exposed []float64 }

func (n *naiveOrders) add(b *output.Building) {
	year := 0
	if b.Year != output.NoInt {
		year = int(b.Year)
	}
	n.rank = append(n.rank, -float64(b.Rank))
	n.oldest = append(n.oldest, ranking.OldestFirst(year))
	n.exposed = append(n.exposed, ranking.HazardTimesOccupants(b.DesignPGA, b.Occupants))
}

func (n *naiveOrders) checks(k int) []output.RankCheck {
	k = min(k, len(n.rank))
	var out []output.RankCheck
	for _, o := range []struct {
		name  string
		score []float64
	}{{"oldest first", n.oldest}, {"hazard times occupants", n.exposed}} {
		c := output.RankCheck{Order: o.name, Tau: ranking.KendallTau(n.rank, o.score), Top: k, Overlap: ranking.TopOverlap(n.rank, o.score, k)}
		if !math.IsNaN(c.Tau) { // too few buildings, or all alike
			out = append(out, c)
		}
	}
	return out
}
