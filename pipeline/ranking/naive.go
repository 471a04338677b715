package ranking

import (
	"cmp"
	"math"
	"slices"
)

// The naive orders that a rank is compared with. Each gives a score, the larger first. A stock
// whose rank they explain needs no calculation. An unknown year or number comes last.

// OldestFirst scores a building by its year of construction: the older, the higher. 0 is unknown.
func OldestFirst(year int) float64 {
	if year == 0 {
		return math.Inf(-1)
	}
	return -float64(year)
}

// HazardTimesOccupants scores a building by the peak ground acceleration in g at
// the design return period times its occupants.
func HazardTimesOccupants(pga, occupants float64) float64 {
	v := pga * occupants
	if math.IsNaN(v) {
		return math.Inf(-1)
	}
	return v
}

// KendallTau returns Kendall's tau-b of two scores of the same things: 1 for the same order, -1 for
// the reverse.
//
//	tau_b = (P - Q)/sqrt((P + Q + X)(P + Q + Y))
//
// P and Q count the pairs that the two scores order alike and unlike. X counts pairs tied in x
// only, Y those tied in y only (Kendall 1945, Biometrika 33). The pairs are counted by sorting, in
// n ln n steps (Knight 1966, JASA 61). The result is NaN for fewer than two things, for a NaN among
// the scores, and if one score is the same for all. KendallTau panics if the lengths differ.
func KendallTau(x, y []float64) float64 {
	if len(x) != len(y) {
		panic("ranking: scores of different length")
	}
	for i := range x {
		if math.IsNaN(x[i]) || math.IsNaN(y[i]) {
			return math.NaN()
		}
	}
	order := make([]int, len(x))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i,
		j int) int {
		return cmp.Or(cmp.Compare(x[i], x[j]), cmp.Compare(y[i], y[j]))
	})
	tiedX := tiedPairs(order, func(i, j int) bool { return x[i] == x[j] })
	tiedBoth := tiedPairs(order, func(i, j int) bool { return x[i] == x[j] && y[i] == y[j] })
	unlike := countInversions(order, make([]int, len(order)), y) // leaves order sorted by y
	tiedY := tiedPairs(order, func(i, j int) bool { return y[i] == y[j] })

	pairs := pairsOf(len(x))
	alike := pairs - tiedX - tiedY + tiedBoth - unlike
	return (alike - unlike) / math.Sqrt((pairs-tiedX)*(pairs-tiedY))
}

// pairsOf returns the number of pairs among n things as a float64. Whole numbers up to 2^53 are
// exact, which is enough for 134 million things.
func pairsOf(n int) float64 { return float64(n) * float64(n-1) / 2 }

// tiedPairs counts the pairs within runs of equal neighbours.
func tiedPairs(order []int, equal func(i, j int) bool) float64 {
	var pairs float64
	run := 1
	for k := 1; k <= len(order); k++ {
		if k < len(order) && equal(order[k-1], order[k]) {
			run++
			continue
		}
		pairs += pairsOf(run)
		run = 1
	}
	return pairs
}

// countInversions sorts order by y, merging halves through spare, and returns the number of pairs
// that change places.
func countInversions(order, spare []int, y []float64) float64 {
	n := len(order)
	if n < 2 {
		return 0
	}
	half := n / 2
	count := countInversions(order[:half], spare[:half], y) + countInversions(order[half:], spare[half:], y)
	copy(spare, order)
	left, right := spare[:half], spare[half:]
	for k := range order {
		if len(right) == 0 || len(left) > 0 && y[left[0]] <= y[right[0]] {
			order[k], left = left[0], left[1:]
			continue
		}
		count += float64(len(left))
		order[k], right = right[0], right[1:]
	}
	return count
}

// TopOverlap returns the share of the k highest by x that are among the k highest by y. Their place
// in the lists breaks ties. k is at most the number of things. The result is NaN if there are none.
func TopOverlap(x, y []float64, k int) float64 {
	if len(x) != len(y) {
		panic("ranking: scores of different length")
	}
	if k = min(k, len(x)); k <= 0 {
		return math.NaN()
	}
	inY := make(map[int]bool, k)
	for _, i := range topOf(y, k) {
		inY[i] = true
	}
	shared := 0
	for _, i := range topOf(x, k) {
		if inY[i] {
			shared++
		}
	}
	return float64(shared) / float64(k)
}

// topOf returns the indices of the k highest scores.
func topOf(x []float64, k int) []int {
	order := make([]int, len(x))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(x[j], x[i]) })
	return order[:k]
}
