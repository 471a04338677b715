package ranking

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// An Offer is one measure that a building could be given under a budget.
type Offer struct {
	Measure string  // slug
	Cost    float64 // currency, 0 or more
	Gain    float64 // what the objective counts, more is better
	Load    float64 // of the works, such as people housed elsewhere times years; 0 or more
}

// A Prospect is one building with its offers. Leaving the building as it is costs and gains nothing
// and need not be listed.
type Prospect struct {
	ID     string // unique
	Offers []Offer

	Must   bool   // one of the offers has to be taken
	Latest int    // last year it may be done in, counted from 1; 0 for any
	Group  string // of buildings that cannot all be worked on at once; "" for none
}

// A Programme takes at most one offer of each prospect within a budget.
type Programme struct {
	Chosen []int   // index of the offer for each prospect, -1 for none
	Spent  float64 // currency
	Gain   float64
	Bound  float64 // no programme within the budget gains more (linear relaxation)
	Gap    float64 // (Bound - Gain)/Bound, 0 without a bound; what may have been missed at most
	Exact  bool    // proved that no programme gains more, by a finished search or by the bound
	Next   float64 // gain of one more unit of money, by the next step of the relaxation; 0 where there is none
}

// searchWork is the number of steps of the relaxation that the exact search may look at, about a
// tenth of a second. It is a count and not a time, so that results do not depend on the machine.
const searchWork = 20_000_000

// searchMost is the largest number of buildings for which the exact search is tried. With more, the
// work would be used up before the search has begun.
const searchMost = 1000

// Fund returns the programme of largest gain under a budget: the multiple-choice knapsack problem.
//
//	maximise sum gain  subject to  sum cost <= budget, at most one offer a building
//
// For each building, the offers on the upper convex hull of gain over cost, from nothing up, form
// steps of falling gain per cost. Taking the steps of all buildings by gain per cost, the last one
// in part, solves the linear relaxation and gives Bound (Sinha and Zoltners 1979, Operations
// Research 27; Zemel 1980). Leaving out what does not fit gives a programme, which exchanges then
// improve. A depth-first search with the same bound then looks for the optimum. Exact says whether
// it ended within a fixed amount of work. It usually does for a few hundred buildings, and it is
// not tried for more than a thousand. The Gap of a large stock is small, since a single step is a
// small part of the budget.
//
// A building that must be done takes one of its offers, whatever that gains. Other offers that gain
// nothing are passed over. The result does not depend on the order of prospects or offers.
//
// The error names an offer whose cost is negative or not a finite number, or whose gain is not a
// finite number.
func Fund(prospects []Prospect, budget float64) (Programme, error) {
	f, err := newFund(prospects, budget)
	if err != nil {
		return Programme{}, err
	}
	bound := f.relax(0, budget)
	f.greedy()
	f.exchange()
	exact := f.search()
	return f.programme(bound, exact), nil
}

// newFund returns a fund with the choices and steps of all buildings.
func newFund(prospects []Prospect, budget float64) (*fund, error) {
	if math.IsNaN(budget) || budget < 0 {
		return nil, fmt.Errorf("budget %g: want 0 or more", budget)
	}
	f := &fund{budget: budget, choices: make([][]choice, len(prospects)), order: make([]int, len(prospects))}
	for i := range prospects {
		f.order[i] = i
	}
	slices.SortFunc(f.order, func(i, j int) int { return cmp.Compare(prospects[i].ID, prospects[j].ID) })
	var must float64
	var all []choice
	for k, i := range f.order {
		if k > 0 && prospects[i].ID == prospects[f.order[k-1]].ID {
			return nil, fmt.Errorf("building %s is listed twice in the budget", prospects[i].ID)
		}
		var err error
		if all, err = undominated(all[:0], &prospects[i]); err != nil {
			return nil, err
		}
		must += all[0].cost
		f.choices[k] = append(make([]choice, 0, len(all)), all...) // a stock has many: no room to spare
		f.addSteps(k)
	}
	if must > budget {
		return nil, fmt.Errorf("what must be done costs %.6g at the least, more than the budget of %.6g; raise "+
			"the budget or shorten the list", must, budget)
	}
	slices.SortFunc(f.steps, func(a, b step) int {
		return cmp.Or(cmp.Compare(b.gain/b.cost, a.gain/a.cost), cmp.Compare(a.building, b.building),
			cmp.Compare(a.to, b.to))
	})
	return f, nil
}

// A choice is an offer that no other offer of the building beats at its cost or less.
type choice struct {
	offer      int // -1 is nothing
	cost, gain float64
}

// undominated appends to all, which is empty, the choices of a prospect in rising cost and gain.
// The first is nothing (or what comes free), or the cheapest offer if one must be taken.
func undominated(all []choice, p *Prospect) ([]choice, error) {
	if !p.Must {
		all = append(all, choice{-1, 0, 0})
	} else if len(p.Offers) == 0 {
		return nil, fmt.Errorf("building %s must be done and no measure fits it; take it off the list, or look at "+
			"its verdicts", p.ID)
	}
	for i, o := range p.Offers {
		if !(o.Cost >= 0) || math.IsInf(o.Cost, 0) || math.IsNaN(o.Gain) || math.IsInf(o.Gain, 0) {
			return nil, fmt.Errorf("building %s, %s: cost %g must be a number of 0 or more and gain %g a number", p.ID,
				o.Measure, o.Cost, o.Gain)
		}
		all = append(all, choice{i, o.Cost, o.Gain})
	}
	slug := func(c choice) string {
		if c.offer < 0 {
			return ""
		}
		return p.Offers[c.offer].Measure
	}
	slices.SortFunc(all, func(a, b choice) int {
		return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(b.gain, a.gain), cmp.Compare(slug(a), slug(b)))
	})
	kept := all[:1]
	for _, c := range all[1:] {
		if c.gain > kept[len(kept)-1].gain {
			kept = append(kept, c)
		}
	}
	return kept, nil
}

// A step leads from one choice of a building on the convex hull to the next.
type step struct {
	building   int // in the order of ids
	from, to   int // index of the choices
	cost, gain float64
}

// A fund is the state of one call of Fund. It numbers buildings in the order of their ids.
type fund struct {
	budget  float64
	order   []int // index of the prospect of each building
	choices [][]choice
	steps   []step // by gain per cost, the largest first
	taken   []int  // index of the choice of each building

	best     float64 // gain of taken
	trial    []int
	work     int
	searched []int // buildings in the order of the search
	depth    []int // place of each building in searched
}

// addSteps adds the steps along the upper convex hull of the choices of a building.
func (f *fund) addSteps(building int) {
	c := f.choices[building]
	hull := []int{0}
	slope := func(i, j int) float64 { return (c[j].gain - c[i].gain) / (c[j].cost - c[i].cost) }
	for j := 1; j < len(c); j++ {
		for len(hull) > 1 && slope(hull[len(hull)-2], hull[len(hull)-1]) <= slope(hull[len(hull)-1], j) {
			hull = hull[:len(hull)-1]
		}
		hull = append(hull, j)
	}
	for k := 1; k < len(hull); k++ {
		i, j := hull[k-1], hull[k]
		f.steps = append(f.steps, step{building, i, j, c[j].cost - c[i].cost, c[j].gain - c[i].gain})
	}
}

// relax returns the largest gain of the buildings at depth or deeper in the search, with left still
// to spend, if the last step may be taken in part. At depth 0 before the search, it is the bound of
// all.
func (f *fund) relax(depth int, left float64) float64 {
	var gain float64
	for k := depth; k < len(f.choices); k++ {
		b := k
		if f.searched != nil {
			b = f.searched[k]
		}
		gain += f.choices[b][0].gain
		left -= f.choices[b][0].cost
	}
	if left < 0 {
		return math.Inf(-1)
	}
	for i := range f.steps {
		s := &f.steps[i]
		if f.depth != nil && f.depth[s.building] < depth {
			continue
		}
		if s.cost > left {
			return gain + s.gain*left/s.cost
		}
		left -= s.cost
		gain += s.gain
	}
	return gain
}

// greedy takes the steps by gain per cost. It passes over steps that do not fit and over the later
// steps of their buildings.
func (f *fund) greedy() {
	f.taken = make([]int, len(f.choices))
	spent, _ := f.sum(f.taken)
	left := f.budget - spent
	for _, s := range f.steps {
		if f.taken[s.building] == s.from && s.cost <= left {
			f.taken[s.building] = s.to
			left -= s.cost
		}
	}
}

// exchange gives the buildings, one after the other, the best choice that the money left can pay
// for, until nothing changes.
func (f *fund) exchange() {
	for changed := true; changed; {
		changed = false
		spent, _ := f.sum(f.taken)
		for b, c := range f.choices {
			for j := len(c) - 1; j > f.taken[b]; j-- { // gain rises with j
				if more := c[j].cost - c[f.taken[b]].cost; spent+more <= f.budget {
					f.taken[b], changed = j, true
					spent += more
					break
				}
			}
		}
	}
}

// sum returns the cost and gain of a choice for every building.
func (f *fund) sum(taken []int) (cost, gain float64) {
	for b, j := range taken {
		cost += f.choices[b][j].cost
		gain += f.choices[b][j].gain
	}
	return cost, gain
}

// search looks for a programme that gains more than taken, and reports whether it came to its end.
// It goes through buildings in the order of their best steps, so that the bound is close early.
func (f *fund) search() bool {
	if len(f.choices) > searchMost {
		return false
	}
	f.depth = make([]int, len(f.choices))
	for b := range f.depth {
		f.depth[b] = -1
	}
	searched := make([]int, 0, len(f.choices))
	visit := func(b int) {
		if f.depth[b] < 0 {
			f.depth[b] = len(searched)
			searched = append(searched, b)
		}
	}
	for i := range f.steps {
		visit(f.steps[i].building)
	}
	for b := range f.choices { // those with nothing to gain
		visit(b)
	}
	f.searched = searched
	_, f.best = f.sum(f.taken)
	f.trial = make([]int, len(f.choices))
	return f.descend(0, f.budget, 0)
}

// descend tries every choice of the building at depth, the largest gain first, and reports whether
// it could finish.
func (f *fund) descend(depth int, left, gain float64) bool {
	// Rounding of sums taken in different orders must not look like a gain.
	slack := 1e-12 * (math.Abs(f.best) + math.Abs(gain))
	if depth == len(f.choices) {
		if gain > f.best+slack {
			f.best = gain
			copy(f.taken, f.trial)
		}
		return true
	}
	f.work += len(f.steps) + 1
	if f.work > searchWork {
		return false
	}
	if gain+f.relax(depth, left) <= f.best+slack {
		return true
	}
	b := f.searched[depth]
	c := f.choices[b]
	for j := len(c) - 1; j >= 0; j-- {
		if c[j].cost > left {
			continue
		}
		f.trial[b] = j
		if !f.descend(depth+1, left-c[j].cost, gain+c[j].gain) {
			return false
		}
	}
	return true
}

// next returns the gain per cost of the first step that the relaxation cannot take whole.
func (f *fund) next() float64 {
	left := f.budget
	for _, c := range f.choices {
		left -= c[0].cost
	}
	for i := range f.steps {
		if left -= f.steps[i].cost; left < 0 {
			return f.steps[i].gain / f.steps[i].cost
		}
	}
	return 0
}

// A Point is the gain of one spend.
type Point struct{ Spent, Gain float64 }

// Frontier returns the gain of the best programme as the budget grows from nothing. Its points are
// the corners of the linear relaxation, which at a corner is a programme. Between two corners no
// programme gains more than the straight line. Frontier returns at most most points, the first and
// the last among them.
func Frontier(prospects []Prospect, most int) ([]Point, error) {
	f, err := newFund(prospects, math.Inf(1))
	if err != nil {
		return nil, err
	}
	var at Point
	for _, c := range f.choices {
		at.Spent, at.Gain = at.Spent+c[0].cost, at.Gain+c[0].gain
	}
	points := []Point{at}
	every := float64(len(f.steps)) / float64(max(1, most-1))
	for i, s := range f.steps {
		at.Spent, at.Gain = at.Spent+s.cost, at.Gain+s.gain
		if i == len(f.steps)-1 || float64(i+1) >= every*float64(len(points)) {
			points = append(points, at)
		}
	}
	return points, nil
}

func (f *fund) programme(bound float64, exact bool) Programme {
	p := Programme{Chosen: make([]int, len(f.choices)), Bound: bound}
	p.Spent, p.Gain = f.sum(f.taken)
	p.Exact = exact || p.Gain >= bound-1e-12*math.Abs(bound)
	p.Next = f.next()
	for b, j := range f.taken {
		p.Chosen[f.order[b]] = f.choices[b][j].offer
	}
	if bound > 0 {
		p.Gap = max(0, (bound-p.Gain)/bound)
	}
	return p
}
