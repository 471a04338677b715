package ranking

import "math"

// A Rank is a place in an order of scores, the largest first.
type Rank struct {
	Place int // 1, 2, 3, ... in the total order
	Dense int // 1, 2, 3, ...; equal scores share one
	Group int // 1, 2, 3, ...; scores not told apart share one
}

// A Ranker ranks scores that come in falling order, such as those of a Merge, without holding them.
// The zero value is ready for use. Scores that are NaN come last and share one dense rank and one
// group.
//
// A group is led by its largest score and takes every following score within Resolution of the
// leader's scale, as Choose does. Groups do not chain: each member is compared with the leader
// alone.
//
// A Ranker is a value that holds all it knows of the scores before. A copy continues from there.
type Ranker struct {
	Last   Rank    // of the score before, the zero Rank for none
	Before float64 // score before
	Leader float64 // score of the leader of the group
	Scale  float64 // of the leader
}

// Next returns the rank of the next score. It panics if the score is larger than the one before.
func (r *Ranker) Next(score, scale float64) Rank {
	first := r.Last.Place == 0
	if !first && (score > r.Before || math.IsNaN(r.Before) && !math.IsNaN(score)) {
		panic("ranking: scores must fall")
	}
	equal := func(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }
	r.Last.Place++
	if first || !equal(score, r.Before) {
		r.Last.Dense++
	}
	if first || !equal(score, r.Leader) && !tied(r.Leader, score, max(r.Scale, scale)) {
		r.Last.Group++
		r.Leader, r.Scale = score, scale
	}
	r.Before = score
	return r.Last
}
