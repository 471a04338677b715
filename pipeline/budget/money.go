package budget

import (
	"context"
	"fmt"

	"plinth/pipeline/assess"
	"plinth/pipeline/assessed"
	"plinth/pipeline/ranking"
)

// Money returns the money of each year, nil where the plan names none.
func Money(study *assess.Study) []float64 {
	b := &study.Plan().Budget
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

// LinePrice returns what one unit of money gains at the plan's budget line, 0 for a plan without
// money, among the buildings that a screening has left.
func LinePrice(ctx context.Context, study *assess.Study, left *assessed.Stock) (float64, error) {
	if Money(study) == nil {
		return 0, nil
	}
	all := &stock{left, study}
	list, err := all.underTerms(ctx)
	if err != nil {
		return 0, err
	}
	var total float64
	for _, m := range Money(study) {
		total += m
	}
	p, err := ranking.Fund(list, total)
	if err != nil {
		return 0, fmt.Errorf("budget: %w", err)
	}
	return p.Next, nil
}
