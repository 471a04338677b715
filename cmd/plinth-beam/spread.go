package main

import (
	"bytes"
	"cmp"
	"hash/fnv"
	"slices"
	"sort"
)

// Records are sorted by a sample sort. The records of each lane go into ranges of their keys: all
// keys of one range come before those of the next, so that a range can be sorted alone. The borders
// of the ranges are quantiles of a sample of keys. Range r of lane l is part l x ranges + r.

// perRange is the number of keys drawn for each range, if as many were scouted. With 64 the largest
// of 1000 ranges holds about 1.5 times its share: the share is a mean of 64 exponential spacings,
// with a standard deviation of 1/8.
const perRange = 64

// A draw holds keys drawn from a lane. In the end it holds the borders that they give: the first key
// of every range but the first.
type draw struct{ Keys [][]byte }

// sampleFn draws the keys with the least hashes. They depend on the set of keys alone and not on the
// order they came in, so that equal runs have equal ranges.
type sampleFn struct{ Ranges int }

// MergeAccumulators adds one draw to another. Now and then it drops all but the least of the sum.
func (f *sampleFn) MergeAccumulators(a, b draw) draw {
	n := perRange * f.Ranges
	if a.Keys = append(a.Keys, b.Keys...); len(a.Keys) >= 4*n {
		a.Keys = least(a.Keys, n)
	}
	return a
}

// ExtractOutput returns the borders that a draw gives.
func (f *sampleFn) ExtractOutput(a draw) draw {
	return draw{borders(least(a.Keys, perRange*f.Ranges), f.Ranges)}
}

// least returns the n keys with the least hashes, or all if there are fewer.
func least(keys [][]byte, n int) [][]byte {
	type hashed struct {
		hash uint64
		key  []byte
	}
	all := make([]hashed, len(keys))
	for i, k := range keys {
		h := fnv.New64a()
		h.Write(k)
		all[i] = hashed{h.Sum64(), k}
	}
	slices.SortFunc(all, func(x, y hashed) int {
		return cmp.Or(cmp.Compare(x.hash, y.hash), bytes.Compare(x.key, y.key))
	})
	out := make([][]byte, min(len(all), n))
	for i := range out {
		out[i] = all[i].key
	}
	return out
}

// borders returns the quantiles of keys that divide them into ranges.
func borders(keys [][]byte, ranges int) [][]byte {
	if len(keys) == 0 {
		return nil
	}
	keys = slices.SortedFunc(slices.Values(keys), bytes.Compare)
	b := make([][]byte, ranges-1)
	for i := range b {
		b[i] = keys[(i+1)*len(keys)/ranges]
	}
	return b
}

// A spread finds the part of a key.
type spread struct {
	ranges  int
	borders map[int][][]byte // by lane
}

func newSpread(ranges int, borders func(*int, *draw) bool) *spread {
	s := &spread{ranges, make(map[int][][]byte)}
	var lane int
	for d := (draw{}); borders(&lane, &d); {
		s.borders[lane] = d.Keys
	}
	return s
}

// part returns the number of the part that a key of a lane belongs to.
func (s *spread) part(lane int, key []byte) int {
	b := s.borders[lane]
	return lane*s.ranges + sort.Search(len(b), func(i int) bool { return bytes.Compare(b[i], key) > 0 })
}
