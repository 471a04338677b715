package fidelity

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/stat"

	"plinth/retrofit/history"
)

// A Ranking is how well spectral demand orders measures and buildings, by one
// quantity.
type Ranking struct {
	Quantity  history.Quantity
	Pairs     int     // of a building and a measure
	Benefit   float64 // Spearman correlation of benefit over them, 1 - with/as it stands
	Buildings float64 // Spearman correlation of the demand as it stands
	Best      float64 // share of buildings whose best measure is named
	Tied      float64 // share whose named measure is the best or within 10 % of it by time history
	Second    float64 // share whose time-history best is among the first two
	Third     float64 // among the first three
	Judged    int     // buildings with at least three measures
}

// Rank returns the ranking by a quantity, over measures that apply: results for
// ranking only are in, isolators that do not move and collapses are not.
func (m *Measured) Rank(q history.Quantity) Ranking {
	out := Ranking{Quantity: q}
	var spectral, timed, asIsS, asIsH []float64
	for i := range m.Rows {
		r := &m.Rows[i]
		as := &r.Checks[history.AsIs].Compared[q]
		if !finite(as.Ratio) || as.Ratio == 0 {
			continue
		}
		asIsS, asIsH = append(asIsS, as.Spectral), append(asIsH, as.Median)
		var s, h []float64
		for k := history.AsIs + 1; k < history.Kinds; k++ {
			c := &r.Checks[k]
			x := &c.Compared[q]
			if c.Err != nil || !finite(x.Ratio) || x.Ratio == 0 {
				continue
			}
			s, h = append(s, 1-x.Spectral/as.Spectral), append(h, 1-x.Median/as.Median)
		}
		spectral, timed = append(spectral, s...), append(timed, h...)
		if len(s) >= 3 {
			out.name(s, h)
		}
	}
	out.Pairs = len(spectral)
	if out.Judged > 0 {
		n := float64(out.Judged)
		out.Best, out.Second, out.Third, out.Tied = out.Best/n, out.Second/n, out.Third/n, out.Tied/n
	}
	out.Benefit, out.Buildings = Spearman(spectral, timed), Spearman(asIsS, asIsH)
	return out
}

// tied is how far the demand with a measure may lie above that with the best for the two
// to be called equal (judgement, as for the ranks of a run).
const tied = 1.1

// name counts where the best of h comes in s.
func (r *Ranking) name(s, h []float64) {
	best, named, above := 0, 0, 0
	for i := range h {
		if h[i] > h[best] {
			best = i
		}
		if s[i] > s[named] {
			named = i
		}
	}
	if 1-h[named] <= tied*(1-h[best]) {
		r.Tied++
	}
	for i := range s {
		if s[i] > s[best] {
			above++
		}
	}
	r.Judged++
	for n, share := range []*float64{&r.Best, &r.Second, &r.Third} {
		if above <= n {
			*share++
		}
	}
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// Spearman returns the rank correlation of x and y, equal values sharing their mean
// rank (Spearman 1904). NaN for fewer than two.
func Spearman(x, y []float64) float64 {
	if len(x) < 2 {
		return math.NaN()
	}
	return stat.Correlation(ranks(x), ranks(y), nil)
}

func ranks(x []float64) []float64 {
	order := make([]int, len(x))
	for i := range order {
		order[i] = i
	}
	sort.Slice(order, func(a, b int) bool { return x[order[a]] < x[order[b]] })
	out := make([]float64, len(x))
	for i := 0; i < len(x); {
		j := i
		for j < len(x) && x[order[j]] == x[order[i]] {
			j++
		}
		for n := i; n < j; n++ {
			out[order[n]] = float64(i+j-1) / 2
		}
		i = j
	}
	return out
}
