package ranking

import "math"

// A Rank is a place in an order of scores from the largest down.
type Rank struct {
	Place int // 1, 2, 3, ... in the total order
	Dense int // 1, 2, 3, ...; equal scores share one
	Group int // 1, 2, 3, ...; scores not told apart share one
}

// A Ranker gives ranks to scores that come in falling order, such as those of a
// Merge, without holding them. The zero value is ready. Scores that are NaN come
// last, share one dense rank and one group.
//
// A group is led by its largest score and takes every following score within
// Resolution of the leader's scale, as Choose does. Groups do not chain: two
// members may differ from each other by no more than either from the leader.
type Ranker struct {
	last   Rank
	before float64 // score before
	leader float64 // score of the leader of the group
	scale  float64 // of the leader
}

// Next returns the rank of the next score. It panics on a score larger than the
// one before.
func (r *Ranker) Next(score, scale float64) Rank {
	first := r.last.Place == 0
	if !first && (score > r.before || math.IsNaN(r.before) && !math.IsNaN(score)) {
		panic("ranking: scores must fall")
	}
	equal := func(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }
	r.last.Place++
	if first || !equal(score, r.before) {
		r.last.Dense++
	}
	if first || !equal(score, r.leader) && !tied(r.leader, score, max(r.scale, scale)) {
		r.last.Group++
		r.leader, r.scale = score, scale
	}
	r.before = score
	return r.last
}
