package inventory

import "math"

// Mixed units show as two groups of ratios that differ by the factor between two units. The ratios are
// height over storeys, and floor area over footprint times storeys. The shares are judgement.
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

// mixed returns the number of rows whose ratio is the median times factor, or over factor, within 25 %.
// It returns 0 if they are too few to suspect two units in one column.
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
