package main

import (
	"bytes"
	"cmp"
	"hash/fnv"
	"reflect"
	"slices"
	"sort"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
)

func init() {
	beam.RegisterType(reflect.TypeFor[sampleFn]())
	beam.RegisterType(reflect.TypeFor[draw]())
}

// The records of each lane go into ranges of their keys, so that a range can be sorted
// alone: all keys of one range come before those of the next. Range r of lane l is
// part l x ranges + r. It is a sample sort: the borders are quantiles of a sample.

// perRange is how many keys are drawn for each range, where so many were scouted: with
// 64 the largest of 1000 ranges holds about 1.5 times its share (the share is a mean of
// 64 exponential spacings, standard deviation 1/8).
const perRange = 64

// A draw is keys drawn from a lane, and in the end the borders they give: the first key
// of every range but the first.
type draw struct{ Keys [][]byte }

// sampleFn draws the keys with the least hashes: which they are depends on the keys
// alone, not on how they came, so that equal runs have equal ranges.
type sampleFn struct{ Ranges int }

// MergeAccumulators adds one draw to another, of which it now and then leaves the least.
func (f *sampleFn) MergeAccumulators(a, b draw) draw {
	n := perRange * f.Ranges
	if a.Keys = append(a.Keys, b.Keys...); len(a.Keys) >= 4*n {
		a.Keys = least(a.Keys, n)
	}
	return a
}

// ExtractOutput returns the borders.
func (f *sampleFn) ExtractOutput(a draw) draw {
	return draw{borders(least(a.Keys, perRange*f.Ranges), f.Ranges)}
}

// least returns the n keys with the least hashes, all where there are fewer.
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

// borders returns the quantiles of keys between ranges.
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

// A spread finds the parts of keys.
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

// part returns the part a key of a lane belongs to.
func (s *spread) part(lane int, key []byte) int {
	b := s.borders[lane]
	return lane*s.ranges + sort.Search(len(b), func(i int) bool { return bytes.Compare(b[i], key) > 0 })
}
