package fidelity

import (
	"math"

	"plinth/retrofit/history"
)

// Duration is the effect of long shaking on one measure: medians over buildings of the demand
// with the measure over that as it stands, under long records over short ones; and what the spectral
// method, which knows how long they are, makes of it: its values over those of the long records.
type Duration struct {
	Kind         history.Kind
	Count        int
	Drift, Accel float64
	Spectral     [history.Quantities]float64 // NaN for a quantity that is not compared
}

// Durations compares two measurements of the same buildings under records of different
// length.
func Durations(short, long *Measured) []Duration {
	var out []Duration
	for k := history.AsIs + 1; k < history.Kinds; k++ {
		drift, accel := gains(short, long, k, history.StoreyDrift), gains(short, long, k, history.FloorAccel)
		if len(drift) == 0 || len(accel) == 0 {
			continue
		}
		d := Duration{Kind: k, Count: len(drift), Drift: math.Exp(median(drift)), Accel: math.Exp(median(accel))}
		for q := range history.Quantities {
			d.Spectral[q] = long.ratio(k, q)
		}
		out = append(out, d)
	}
	return out
}

// ratio returns the median of the spectral value over that of the time histories; NaN for none.
func (m *Measured) ratio(k history.Kind, q history.Quantity) float64 {
	var ln []float64
	for i := range m.Rows {
		c := &m.Rows[i].Checks[k]
		if x := math.Log(c.Compared[q].Ratio); finite(x) && usable(c) {
			ln = append(ln, x)
		}
	}
	if len(ln) == 0 {
		return math.NaN()
	}
	return math.Exp(median(ln))
}

// gains returns ln of the demand ratio, with the measure over as it stands, under long records
// over that under short ones.
func gains(short, long *Measured, k history.Kind, q history.Quantity) []float64 {
	var out []float64
	for i := range short.Rows {
		factor := func(m *Measured) float64 {
			c := m.Rows[i].Checks
			return c[k].Compared[q].Median / c[history.AsIs].Compared[q].Median
		}
		if x := math.Log(factor(long) / factor(short)); finite(x) && usable(&short.Rows[i].Checks[k]) {
			out = append(out, x)
		}
	}
	return out
}

// Agreement returns the Spearman correlation of the benefit of measures under short and long
// records: the agreement of time histories with themselves.
func Agreement(short, long *Measured, q history.Quantity) float64 {
	var s, l []float64
	for i := range short.Rows {
		for k := history.AsIs + 1; k < history.Kinds; k++ {
			benefit := func(m *Measured) float64 {
				c := m.Rows[i].Checks
				return 1 - c[k].Compared[q].Median/c[history.AsIs].Compared[q].Median
			}
			if a, b := benefit(short), benefit(long); finite(a) && finite(b) {
				s, l = append(s, a), append(l, b)
			}
		}
	}
	return Spearman(s, l)
}
