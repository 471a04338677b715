package screen

import (
	"context"
	"encoding/binary"
	"math"
	"slices"

	"plinth/pipeline/assess"
	"plinth/pipeline/extsort"
	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
)

// lives is the place of life safety among the objectives.
var lives = slices.Index(ranking.Objectives(), ranking.LifeSafety)

// An Order ranks buildings by a score, the largest first; equal scores by the deaths that can be
// avoided and by annual loss, the largest first, then by id.
type Order struct {
	score func(*output.Building) float64
	note  func(b *output.Building, place int64)
}

// AppendKey appends the sort key of the building.
func (o *Order) AppendKey(key []byte, b *output.Building) []byte {
	return assess.AppendRankKey(key, o.score(b), b.Scores[lives], b.AnnualLoss, b.ID)
}

// Note enters the building's place in the order, 1 for the first.
func (o *Order) Note(b *output.Building, place int64) { o.note(b, place) }

// Orders returns the orders that buildings are ranked in: by annual loss as they stand, by
// each objective other than the plan's, and last by the plan's.
func Orders(study *assess.Study) []Order {
	orders := []Order{{
		score: func(b *output.Building) float64 { return b.AnnualLoss },
		note:  func(b *output.Building, place int64) { b.RankAsIs = place },
	}}
	chosen := -1
	for k, o := range ranking.Objectives() {
		if o == study.Objective() {
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

// A placing finds the places of a stock in an order other than the plan's. It sorts keys
// alone, each followed by the number of its building. Buildings are numbered as they are
// assessed; the numbers decide no place and reach no file.
type placing struct {
	Order
	sorter *extsort.Sorter
	places []uint32 // of each building, by its number
}

func appendNumber(key []byte, n int64) []byte {
	return binary.LittleEndian.AppendUint32(key, uint32(n))
}

// numberIn returns the number of the building at the end of a key.
func numberIn(key []byte) uint32 { return binary.LittleEndian.Uint32(key[len(key)-4:]) }

// rank finds the places of n buildings in the order.
func (p *placing) rank(ctx context.Context, n int64) error {
	p.places = make([]uint32, n)
	var place uint32
	err := p.sorter.Each(ctx, func(key, _ []byte) error {
		place++
		p.places[numberIn(key)] = place
		return nil
	})
	if err != nil {
		return err
	}
	return p.sorter.Close()
}

// naiveOrders collects the scores of simple orders that the rank is compared with.
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
		c := output.RankCheck{Order: o.name, Tau: ranking.KendallTau(n.rank, o.score), Top: k,
			Overlap: ranking.TopOverlap(n.rank, o.score, k)}
		if !math.IsNaN(c.Tau) { // too few buildings, or all alike
			out = append(out, c)
		}
	}
	return out
}
