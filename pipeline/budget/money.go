package budget

import (
	"context"
	"fmt"

	"plinth/pipeline/assess"
	"plinth/pipeline/output"
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

// LinePrice assesses the register and returns what one unit of money gains at the plan's
// budget line, 0 for a plan without money, and the counts of the register.
func LinePrice(ctx context.Context, study *assess.Study, s assess.Settings) (float64, output.Counts, error) {
	all, counts, err := collect(ctx, study, s)
	if err != nil || Money(study) == nil {
		return 0, counts, err
	}
	price, err := priceOf(study, all)
	return price, counts, err
}

// priceOf returns what one unit of money gains at the plan's budget line.
func priceOf(study *assess.Study, all []building) (float64, error) {
	t, err := readTerms(study, all)
	if err != nil {
		return 0, err
	}
	var total float64
	for _, m := range Money(study) {
		total += m
	}
	p, err := ranking.Fund(prospects(all, study.Objective(), t), total)
	if err != nil {
		return 0, fmt.Errorf("budget: %w", err)
	}
	return p.Next, nil
}
