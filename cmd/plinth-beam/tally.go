package main

import "github.com/apache/beam/sdks/v2/go/pkg/beam"

func init() {
	beam.RegisterFunction(addTallies)
}

// A tally counts the rows of a stretch, or of all stretches, by what became of them.
type tally struct {
	In, Out, Rejected int64
	Parts             []int64 // records of each part
}

func addTallies(a, b tally) tally {
	sum := tally{a.In + b.In, a.Out + b.Out, a.Rejected + b.Rejected, make([]int64, max(len(a.Parts), len(b.Parts)))}
	copy(sum.Parts, a.Parts)
	for i, n := range b.Parts {
		sum.Parts[i] += n
	}
	return sum
}

// whole returns the tally of all stretches. A stock without rows has none, and gets a tally of zeros.
func whole(tallies func(*tally) bool) (t tally) {
	tallies(&t)
	return t
}

// before returns the number of records of the lane that come before those of a part.
func (t *tally) before(part, ranges int) (n int64) {
	for p := part / ranges * ranges; p < part; p++ {
		n += t.Parts[p]
	}
	return n
}
