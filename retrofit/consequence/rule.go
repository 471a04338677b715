package consequence

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/integrate/quad"
)

// ladder holds the return periods in yr that annual values are integrated on, beyond the onset of
// damage: those that maps and codes print, so that a run seldom needs others. The last is the
// rarest shaking that is told apart (judgement).
var ladder = []float64{25, 50, 100, 225, 475, 975, 2475, 10000}

// nearRung is the ratio within which a return period of a run takes the place of a rung, and
// apart the ratio of two rungs that needs one between (judgement: within both the rule is as good).
const nearRung, apart = 1.15, 4.5

// Rungs returns the return periods in yr, ascending, whose levels annual values are integrated on:
// the onset of damage and the ladder from there on, with those of asked in place of near rungs.
func (m *Model) Rungs(asked []float64) []float64 {
	onset := m.options.OnsetReturnPeriod
	rungs := []float64{onset}
	for _, tr := range ladder {
		if tr < 1.5*onset {
			continue
		}
		last := rungs[len(rungs)-1]
		steps := math.Ceil(math.Log(tr/last)/math.Log(apart) - 1e-9)
		for i := 1.0; i < steps; i++ { // where the onset lies far below the ladder
			rungs = append(rungs, last*math.Pow(tr/last, i/steps))
		}
		rungs = append(rungs, nearest(asked, tr))
	}
	return rungs
}

// nearest returns the return period of asked that takes the place of the rung tr, or tr.
func nearest(asked []float64, tr float64) float64 {
	at, apart := tr, nearRung
	for _, given := range asked {
		if ratio := max(given/tr, tr/given); ratio <= apart {
			at, apart = given, ratio
		}
	}
	return at
}

// A Rule is the nodes of an integral over annual frequency. It never changes once made.
type Rule struct {
	levels         int // of a run
	node           []node
	frequent, rare int // levels before and after those asked for
}

// A node is a level, or the point midway between two in the logarithm of the return period, and its
// weight in 1/yr.
type node struct {
	a, b   int     // the same for a level
	years  float64 // return period
	weight float64
}

// NewRule returns the rule of levels at the return periods years in yr, ascending. The integral of
// the loss L over the annual frequency v = 1/T runs over the rungs, which are among years,
//
//	sum of weight L = integral from ln T_1 to ln T_n of L exp(-x) dx + L_n/T_n,  x = ln T
//
// with nodes at the rungs and midway between, where demand follows a power of T. L between two
// nodes is the cubic in x through these and the one on either side, or a straight line where rungs
// lie so unevenly that a weight would be negative. Beyond the last rung L is held; what is more
// frequent than the first is not counted. asked are the return periods that a run prints: shares
// of the annual loss are told of what lies outside them.
//
// NewRule panics on lists that do not ascend and on rungs that are no level.
func NewRule(years, rungs, asked []float64) Rule {
	if len(rungs) == 0 || !rising(years) || !rising(rungs) {
		panic("consequence: return periods must be positive and ascend")
	}
	r := Rule{levels: len(years)}
	var at []float64 // yr, of the nodes
	for i, tr := range rungs {
		level, ok := slices.BinarySearch(years, tr)
		if !ok {
			panic("consequence: a rung that is no level")
		}
		if i > 0 {
			at = append(at, math.Sqrt(rungs[i-1]*tr))
			r.node = append(r.node, node{a: r.node[len(r.node)-1].a, b: level})
		}
		r.node, at = append(r.node, node{a: level, b: level}), append(at, tr)
	}
	w := weights(at, 4)
	if slices.Min(w) < 0 {
		w = weights(at, 2)
	}
	for i := range r.node {
		r.node[i].years, r.node[i].weight = at[i], w[i]
	}
	for _, tr := range years {
		if len(asked) > 0 && tr < asked[0] {
			r.frequent++
		}
		if len(asked) > 0 && tr > asked[len(asked)-1] {
			r.rare++
		}
	}
	return r
}

// Nodes returns the number of nodes.
func (r *Rule) Nodes() int { return len(r.node) }

// Node returns node i of the levels of a run: its level, its return period in yr and its weight in
// 1/yr. The level is one of levels or between, which is then overwritten.
func (r *Rule) Node(i int, levels []Level, between *Level) (l *Level, years, weight float64) {
	n := &r.node[i]
	if n.a == n.b {
		return &levels[n.a], n.years, n.weight
	}
	between.midway(&levels[n.a], &levels[n.b])
	return between, n.years, n.weight
}

func rising(years []float64) bool {
	for i, tr := range years {
		if !(tr > 0) || i > 0 && tr <= years[i-1] {
			return false
		}
	}
	return true
}

// weights returns those of the rungs if L between two of them is the polynomial in ln T through
// points of them, as many on either side as there are.
func weights(rungs []float64, points int) []float64 {
	n := len(rungs)
	points = min(points, n)
	w, x := make([]float64, n), make([]float64, n)
	for i, tr := range rungs {
		x[i] = math.Log(tr)
	}
	var at, share [8]float64 // exact to rounding over a step of the ladder
	for i := range n - 1 {
		quad.Legendre{}.FixedLocations(at[:], share[:], x[i], x[i+1])
		first := min(max(0, i+1-points/2), n-points)
		for k, u := range at {
			for j := first; j < first+points; j++ {
				w[j] += share[k] * math.Exp(-u) * lagrange(x[first:first+points], j-first, u)
			}
		}
	}
	w[n-1] += 1 / rungs[n-1]
	return w
}

// lagrange returns at u the polynomial through the points x that is 1 at x[j] and 0 at the others.
func lagrange(x []float64, j int, u float64) float64 {
	l := 1.0
	for k := range x {
		if k != j {
			l *= (u - x[k]) / (x[j] - x[k])
		}
	}
	return l
}
