package pipeline

import (
	"context"
	"fmt"
	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
)

// money returns the money of each year, nil where the plan names none.
func (r *Run) money() []float64 {
	b := &r.plan.Budget
	if b.Total == 0 && b.Yearly == 0 {
		return nil
	}
	out := make([]float64, b.Years)
	left := b.Total
	for y := range out {
		switch {
		case b.Yearly == 0:
			out[y], left = left, 0
		case b.Total == 0:
			out[y] = b.Yearly
		default:
			out[y] = min(left, b.Yearly)
			left -= out[y]
		}
	}
	return out
}

// LinePrice assesses the register and returns what one unit of money gains at the plan's
// budget line, 0 for a plan without money, and the counts of the register.
func (r *Run) LinePrice(ctx context.Context, s Settings) (float64, output.Counts, error) {
	all, counts, err := r.candidates(ctx, s)
	if err != nil || r.money() == nil {
		return 0, counts, err
	}
	price, err := r.price(all)
	return price, counts, err
}

// price returns what one unit of money gains at the plan's budget line.
func (r *Run) price(all []candidate) (float64, error) {
	t, err := r.terms(all)
	if err != nil {
		return 0, err
	}
	var money float64
	for _, m := range r.money() {
		money += m
	}
	p, err := ranking.Fund(prospects(all, r.objective, t), money)
	if err != nil {
		return 0, fmt.Errorf("budget: %w", err)
	}
	return p.Next, nil
}
