package fidelity

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"

	"plinth/retrofit/demand"
	"plinth/retrofit/history"
)

// Ranking measures the agreement of one source's order of measures and buildings with
// another's, by one quantity.
type Ranking struct {
	Quantity  history.Quantity
	Pairs     int     // of a building and a measure
	Benefit   float64 // Spearman correlation of benefit over pairs, 1 - with/as it stands
	Buildings float64 // Spearman correlation of the demand as it stands
	Best      float64 // share of buildings whose best measure is named
	Tied      float64 // share whose named measure is within 10 % of the best
	Second    float64 // share whose best is among the first two named
	Third     float64 // among the first three
	Judged    int     // buildings with at least three measures
}

// Source returns a quantity of a building with a measure.
type Source func(*Row, history.Kind, history.Quantity) float64

// Spectral returns the value of the spectral method. Timed is its counterpart of time
// histories; FirstHalf and SecondHalf are time histories under half of the records each. The
// agreement of the halves is the most that a method can reach.
func Spectral(r *Row, k history.Kind, q history.Quantity) float64 {
	return r.Checks[k].Compared[q].Spectral
}

// Timed returns the median of the time histories.
func Timed(r *Row, k history.Kind, q history.Quantity) float64 { return r.Checks[k].History.Of(q) }

// FirstHalf returns the median under every second record.
func FirstHalf(r *Row, k history.Kind, q history.Quantity) float64 { return r.Halves[k][0].Of(q) }

// SecondHalf returns the median under the other records.
func SecondHalf(r *Row, k history.Kind, q history.Quantity) float64 { return r.Halves[k][1].Of(q) }

// Rank returns the agreement of the order by by with that by truth, over measures that apply:
// isolators that do not move and collapses are left out. inside also leaves out results without
// a stated band: frames that yield above isolators, and isolation with a period below twice
// that of the frame. Feasibility rules bar both.
func (m *Measured) Rank(q history.Quantity, by, truth Source, inside bool) Ranking {
	out := Ranking{Quantity: q}
	var named, truly, asIsN, asIsT []float64
	for i := range m.Rows {
		r := &m.Rows[i]
		n0, t0 := by(r, history.AsIs, q), truth(r, history.AsIs, q)
		if !positive(n0) || !positive(t0) {
			continue
		}
		asIsN, asIsT = append(asIsN, n0), append(asIsT, t0)
		var n, t []float64
		for k := history.AsIs + 1; k < history.Kinds; k++ {
			c := &r.Checks[k]
			if c.Err != nil || c.Spectral.Status&demand.Stuck != 0 || inside && !usable(c) {
				continue
			}
			if x, y := by(r, k, q), truth(r, k, q); positive(x) && positive(y) {
				n, t = append(n, 1-x/n0), append(t, 1-y/t0)
			}
		}
		named, truly = append(named, n...), append(truly, t...)
		if len(n) >= 3 {
			out.name(n, t)
		}
	}
	out.Pairs = len(named)
	if out.Judged > 0 {
		n := float64(out.Judged)
		out.Best, out.Second, out.Third, out.Tied = out.Best/n, out.Second/n, out.Third/n, out.Tied/n
	}
	out.Benefit, out.Buildings = Spearman(named, truly), Spearman(asIsN, asIsT)
	return out
}

func positive(x float64) bool { return x > 0 && !math.IsInf(x, 1) }

// tied is the ratio of the demand with a measure to that with the best up to which the two
// count as equal (judgement, as for the ranks of a run).
const tied = 1.1

// name counts the place in s of the best of h.
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
// rank (Spearman 1904). NaN for fewer than two and where a value is not a number.
func Spearman(x, y []float64) float64 {
	if len(x) < 2 || floats.HasNaN(x) || floats.HasNaN(y) {
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
		j := i + 1
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
