package main

import (
	"reflect"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
)

func init() {
	beam.RegisterFunction(addTallies)
	beam.RegisterType(reflect.TypeFor[tally]())
}

// tally counts the rows of a shard, or of all shards, by outcome.
type tally struct {
	In, Out, Rejected int64
	Parts             []int64 // records of each part
}

func addTallies(a, b tally) tally {
	sum := tally{a.In + b.In, a.Out + b.Out, a.Rejected + b.Rejected,
		make([]int64, max(len(a.Parts), len(b.Parts)))}
	copy(sum.Parts, a.Parts)
	for i, n := range b.Parts {
		sum.Parts[i] += n
	}
	return sum
}

// whole returns the tally of all shards; zero for a stock without rows.
func whole(tallies func(*tally) bool) (t tally) {
	tallies(&t)
	return t
}

// before returns the number of records of its lane before those of a part.
func (t *tally) before(part, ranges int) (n int64) {
	for p := part / ranges * ranges; p < part; p++ {
		n += t.Parts[p]
	}
	return n
}
