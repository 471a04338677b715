package ranking

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
)

// Years are the terms under which a programme is carried out.
type Years struct {
	Money     []float64 // of each year, one year at least
	CarryOver bool      // what a year leaves unspent may be spent later
	PerGroup  int       // buildings of one group that may be worked on in a year; 0 for any number
	Load      float64   // largest load of a year's works, 0 for no limit
}

// A Schedule is a programme with the year of each building, counted from 1; 0 for buildings that it
// leaves out.
type Schedule struct {
	Programme
	Year []int
}

// scheduledMost is the largest number of buildings with offers for which years are searched and not
// only filled. The search grows with the number of years as well.
const scheduledMost = 14

// Arrange returns a programme under yearly money and the terms of the works.
//
// It first chooses as if all money came at once (Fund). It then places what was chosen: the nearest
// deadline first, then by gain per cost, each in the first year that can pay for it and take it.
// What finds no place makes room for other offers that do. Sets of up to scheduledMost buildings
// are then searched over offers and years, and Exact says whether the search came to its end.
//
// Bound is that of all the money at once without terms, so no programme under the terms gains more.
// Gap is measured against it and may be the price of the terms. Gains do not depend on the year.
func Arrange(prospects []Prospect, y Years) (Schedule, error) {
	var total float64
	for i, m := range y.Money {
		if !(m >= 0) {
			return Schedule{}, fmt.Errorf("money of year %d is %g: want 0 or more", i+1, m)
		}
		total += m
	}
	if len(y.Money) == 0 {
		return Schedule{}, errors.New("a programme needs one year at least")
	}
	p, err := Fund(prospects, total)
	if err != nil {
		return Schedule{}, err
	}
	a := &arrangement{prospects: prospects, terms: y, year: make([]int, len(prospects)),
		chosen: make([]int, len(prospects)), groups: make([]map[string]int, len(y.Money))}
	a.start()
	a.fill(p.Chosen)
	if err := a.missing(); err != nil {
		return Schedule{}, err
	}
	out := Schedule{Programme: p}
	wasExact := p.Exact && slices.Equal(a.chosen, p.Chosen)
	out.Chosen, out.Year = a.chosen, a.year
	out.Spent, out.Gain = a.sum()
	out.Exact = wasExact || a.search()
	if !wasExact {
		out.Chosen, out.Year = a.chosen, a.year
		out.Spent, out.Gain = a.sum()
	}
	if out.Bound > 0 {
		out.Gap = max(0, (out.Bound-out.Gain)/out.Bound)
	}
	return out, nil
}

// An arrangement is a programme that is being placed in years.
type arrangement struct {
	prospects []Prospect
	terms     Years
	chosen    []int // offer of each prospect, -1 for none
	year      []int
	spent     []float64 // of each year
	load      []float64
	groups    []map[string]int

	// of the search
	active     []int
	best       float64
	bestChosen []int
	bestYear   []int
	work       int
}

// start removes everything from the arrangement.
func (a *arrangement) start() {
	n := len(a.terms.Money)
	a.spent, a.load = make([]float64, n), make([]float64, n)
	for i := range a.groups {
		a.groups[i] = make(map[string]int)
	}
	for i := range a.chosen {
		a.chosen[i], a.year[i] = -1, 0
	}
}

// fits reports whether year y, counted from 0, can take an offer of prospect i.
func (a *arrangement) fits(i int, o *Offer, y int) bool {
	p, t := &a.prospects[i], &a.terms
	if p.Latest > 0 && y+1 > p.Latest {
		return false
	}
	if t.PerGroup > 0 && p.Group != "" && a.groups[y][p.Group] >= t.PerGroup {
		return false
	}
	if t.Load > 0 && a.load[y]+o.Load > t.Load*(1+1e-12) {
		return false
	}
	if !t.CarryOver {
		return a.spent[y]+o.Cost <= t.Money[y]*(1+1e-12)
	}
	var spent, money float64
	for k := range t.Money { // later years must still be able to pay for theirs
		spent, money = spent+a.spent[k], money+t.Money[k]
		if k >= y && spent+o.Cost > money*(1+1e-12) {
			return false
		}
	}
	return true
}

// put places an offer in a year, or with sign -1 removes it.
func (a *arrangement) put(i, offer, y int, sign float64) {
	o := &a.prospects[i].Offers[offer]
	a.spent[y] += sign * o.Cost
	a.load[y] += sign * o.Load
	a.groups[y][a.prospects[i].Group] += int(sign)
	a.chosen[i], a.year[i] = offer, y+1
	if sign < 0 {
		a.chosen[i], a.year[i] = -1, 0
	}
}

// place puts an offer in the first year that can take it.
func (a *arrangement) place(i, offer int) bool {
	for y := range a.terms.Money {
		if a.fits(i, &a.prospects[i].Offers[offer], y) {
			a.put(i, offer, y, 1)
			return true
		}
	}
	return false
}

// An opening is an offer with its place in the order of placing.
type opening struct{ prospect, offer int }

// fill places what was chosen. It then places other offers of buildings that must be done and have
// found no place, and then whatever else there is room for.
func (a *arrangement) fill(chosen []int) {
	var first, rest []opening
	for i := range a.prospects {
		for j := range a.prospects[i].Offers {
			if j == chosen[i] {
				first = append(first, opening{i, j})
			} else if a.prospects[i].Must || a.prospects[i].Offers[j].Gain > 0 {
				rest = append(rest, opening{i, j})
			}
		}
	}
	for _, list := range [][]opening{first, rest} {
		slices.SortFunc(list, a.compare)
		for _, o := range list {
			if a.chosen[o.prospect] < 0 {
				a.place(o.prospect, o.offer)
			}
		}
	}
}

// compare puts buildings that must be done first, then the nearer deadline, then the larger gain
// per cost, then the id.
func (a *arrangement) compare(x, y opening) int {
	p, q := &a.prospects[x.prospect], &a.prospects[y.prospect]
	deadline := func(p *Prospect) int {
		if p.Latest == 0 {
			return math.MaxInt
		}
		return p.Latest
	}
	must := func(p *Prospect) int {
		if p.Must {
			return 0
		}
		return 1
	}
	worth := func(o *Offer) float64 { return o.Gain / max(o.Cost, math.SmallestNonzeroFloat64) }
	return cmp.Or(
		cmp.Compare(must(p), must(q)), cmp.Compare(deadline(p), deadline(q)),
		cmp.Compare(worth(&q.Offers[y.offer]), worth(&p.Offers[x.offer])),
		cmp.Compare(p.ID, q.ID), cmp.Compare(x.offer, y.offer))
}

// missing returns an error that names a building which must be done and has found no year.
func (a *arrangement) missing() error {
	for i := range a.prospects {
		if p := &a.prospects[i]; p.Must && a.chosen[i] < 0 {
			return fmt.Errorf("building %s must be done and no year can take it: look at the money, its deadline, "+
				"its group and the load of a year", p.ID)
		}
	}
	return nil
}

func (a *arrangement) sum() (cost, gain float64) {
	for i, j := range a.chosen {
		if j >= 0 {
			cost += a.prospects[i].Offers[j].Cost
			gain += a.prospects[i].Offers[j].Gain
		}
	}
	return cost, gain
}

// search looks for a better arrangement of a small set and reports whether it came to its end. A
// better arrangement replaces the present one.
func (a *arrangement) search() bool {
	for i := range a.prospects {
		if len(a.prospects[i].Offers) > 0 {
			a.active = append(a.active, i)
		}
	}
	if len(a.active) > scheduledMost {
		return false
	}
	slices.SortFunc(a.active, func(i, j int) int { return cmp.Compare(a.prospects[i].ID, a.prospects[j].ID) })
	_, a.best = a.sum()
	a.bestChosen, a.bestYear = slices.Clone(a.chosen), slices.Clone(a.year)
	a.start()
	done := a.descend(0, 0)
	a.chosen, a.year = a.bestChosen, a.bestYear
	return done
}

// descend tries every offer and year of the prospects from depth on. What is left cannot gain more
// than the best offer of each.
func (a *arrangement) descend(depth int, gain float64) bool {
	if a.work++; a.work > searchWork/10 {
		return false
	}
	slack := 1e-12 * (math.Abs(a.best) + math.Abs(gain))
	if depth == len(a.active) {
		if gain > a.best+slack {
			a.best = gain
			copy(a.bestChosen, a.chosen)
			copy(a.bestYear, a.year)
		}
		return true
	}
	rest := gain
	for _, i := range a.active[depth:] {
		rest += a.prospects[i].most()
	}
	if rest <= a.best+slack {
		return true
	}
	i := a.active[depth]
	for j := range a.prospects[i].Offers {
		o := &a.prospects[i].Offers[j]
		for y := range a.terms.Money {
			if !a.fits(i, o, y) {
				continue
			}
			a.put(i, j, y, 1)
			done := a.descend(depth+1, gain+o.Gain)
			a.put(i, j, y, -1)
			if !done {
				return false
			}
		}
	}
	if a.prospects[i].Must {
		return true
	}
	return a.descend(depth+1, gain)
}

// most returns the largest gain of an offer. It is at least 0, unless the building must be done.
func (p *Prospect) most() float64 {
	m := 0.0
	if p.Must {
		m = math.Inf(-1)
	}
	for i := range p.Offers {
		m = max(m, p.Offers[i].Gain)
	}
	return m
}
