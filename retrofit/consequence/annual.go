package consequence

import "plinth/hazard/elementary"

// Annual is the mean annual loss, and the shares of it from the two tails beyond the levels.
type Annual struct {
	Loss
	FrequentShare float64 // of Total from shaking more frequent than the first level
	RareShare     float64 // of Total from shaking rarer than the last level
}

// Annual fills out with the annual values of a building: the integral of the loss L over the
// annual frequency of exceedance v, with L linear in ln v between levels. Each interval from
// v_a down to v_b contributes
//
//	L_a (v_a - q) + L_b (q - v_b),  q = (v_a - v_b)/ln(v_a/v_b)
//
// which is the exact integral of that line. The tails are:
//
//	more frequent than the first level: a line from L_1 at v_1 to 0 at the onset
//	    frequency 1/onset_return_period; nothing if v_1 is above the onset
//	rarer than the last level: L_n v_n, loss held (the true loss is not less)
//
// freq is in 1/yr, one for each level, positive and strictly falling: the inverses of the run's
// return periods. Annual allocates nothing. It panics on empty lists, lists of different
// length, and frequencies that do not fall.
func (m *Model) Annual(e *Exposure, levels []Level, freq []float64, out *Annual) {
	if len(levels) != len(freq) || len(freq) == 0 {
		panic("consequence: one frequency for each level, and at least one")
	}
	*out = Annual{}
	var b building
	m.prepare(e, &b)
	var at Loss
	before := 0.0 // weight of the level from the interval before it
	if onset := 1 / m.options.OnsetReturnPeriod; onset > freq[0] {
		_, before = lineWeights(onset, freq[0])
	}
	for i := range levels {
		after := freq[i] // the rare tail
		var next float64
		if i+1 < len(freq) {
			after, next = lineWeights(freq[i], freq[i+1])
		}
		m.at(e, &b, &levels[i], &at)
		out.add(before+after, &at)
		if i == 0 {
			out.FrequentShare = before * at.Total
		}
		before = next
	}
	if out.Total > 0 {
		out.FrequentShare /= out.Total
		out.RareShare = freq[len(freq)-1] * at.Total / out.Total
	}
}

// lineWeights returns the weights of the two ends of an interval of frequency from a down to b
// in the integral of a loss that is linear in ln v.
func lineWeights(a, b float64) (wa, wb float64) {
	if !(b > 0 && a > b) {
		panic("consequence: frequencies must be positive and fall from level to level")
	}
	q := (a - b) / elementary.Log(a/b)
	return a - q, q - b
}
