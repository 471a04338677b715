package pipeline

import (
	"context"
	"errors"
	"math"

	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
)

// An Order is an order of the buildings in which each has a place: by a score, the
// largest first, equal scores by annual loss and then by id.
type Order struct {
	score func(*output.Building) float64
	note  func(b *output.Building, place int64)
}

// AppendKey appends what the building is sorted by.
func (o *Order) AppendKey(key []byte, b *output.Building) []byte {
	key = ranking.AppendDescending(key, o.score(b))
	key = ranking.AppendDescending(key, b.AnnualLoss)
	return ranking.AppendString(key, b.ID)
}

// Note enters the building's place in the order, 1 for the first.
func (o *Order) Note(b *output.Building, place int64) { o.note(b, place) }

// Orders returns the orders in which the buildings have a place: by annual loss as
// they stand, by each objective that is not the plan's, and last by the plan's.
func (r *Run) Orders() []Order {
	orders := []Order{{
		score: func(b *output.Building) float64 { return b.AnnualLoss },
		note:  func(b *output.Building, place int64) { b.RankAsIs = place },
	}}
	chosen := -1
	for k, o := range ranking.Objectives() {
		if o == r.objective {
			chosen = k
			continue
		}
		orders = append(orders, Order{
			score: func(b *output.Building) float64 { return b.Scores[k] },
			note:  func(b *output.Building, place int64) { b.Ranks[k] = place },
		})
	}
	return append(orders, Order{
		score: func(b *output.Building) float64 { return b.Score },
		note: func(b *output.Building, place int64) {
			if b.Rank = place; chosen >= 0 {
				b.Ranks[chosen] = place
			}
		},
	})
}

// rank reads the buildings in one order after the other, the first of which they
// were sorted in, notes their places, and leaves them sorted by the plan's.
func (s *sink) rank(ctx context.Context) error {
	orders := s.run.Orders()
	for i := range orders[1:] {
		if err := s.resort(ctx, orders[i].note, &orders[i+1]); err != nil {
			return err
		}
	}
	return nil
}

// resort notes the place of each building in the present order and sorts them anew.
func (s *sink) resort(ctx context.Context, note func(*output.Building, int64), order *Order) error {
	next := ranking.NewSorter(s.options)
	var place int64
	var key, payload []byte
	err := each(ctx, s.buildings, &output.Buildings, func(b *output.Building) error {
		place++
		note(b, place)
		key = order.AppendKey(key[:0], b)
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
	orders := s.run.Orders()
	err := s.resort(ctx, func(b *output.Building, place int64) {
		if place <= most {
			only[b.ID] = true
		}
	}, &orders[len(orders)-1])
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
