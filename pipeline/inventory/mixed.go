package inventory

import "math"

// Mixed units show as a second group of ratios, of height over storeys or of
// floor area over footprint times storeys, a known factor above the first or
// below it. Shares are judgement.
const (
	mixedShare = 0.05 // of the rows, least share of the second group
	mixedRows  = 5    // least number of rows in it
	mixedWidth = 2    // steps of a tenth of the logarithm to either side of its centre
)

func (h *histogram) merge(o *histogram) {
	for i := range h {
		h[i] += o[i]
	}
}

// mixed returns how many rows have a ratio factor times the median or a factor'th
// of it (within 25 %), if they are enough to suspect two units in one column;
// else 0.
func (h *histogram) mixed(factor float64) int {
	total := 0
	for _, n := range h {
		total += n
	}
	median, run := 0, 0
	for i, n := range h {
		if run += n; 2*run >= total {
			median = i
			break
		}
	}
	step := int(math.Round(10 * math.Log(factor)))
	most := 0
	for _, centre := range [...]int{median - step, median + step} {
		n := 0
		for i := max(0, centre-mixedWidth); i <= min(centre+mixedWidth, len(h)-1); i++ {
			n += h[i]
		}
		most = max(most, n)
	}
	if most < mixedRows || float64(most) < mixedShare*float64(total) {
		return 0
	}
	return most
}
