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

// The records of each lane are divided into ranges of their keys, so that a range can be sorted
// separately: all keys of one range come before those of the next. Range r of lane l is part l
// x ranges + r. This is a sample sort: the borders are quantiles of a sample.

// perRange is the number of keys drawn for each range, if so many were scouted. With 64 the
// largest of 1000 ranges holds about 1.5 times its share (the share is a mean of 64 exponential
// spacings, standard deviation 1/8).
const perRange = 64

// draw holds the keys drawn from a lane, and in the end the borders: the first key of every
// range except the first.
type draw struct{ Keys [][]byte }

// sampleFn draws the keys with the least hashes. The sample depends on the keys alone, not on
// their order of arrival, so that equal runs have equal ranges.
type sampleFn struct{ Ranges int }

// MergeAccumulators adds one draw to another and sometimes reduces the result to its least
// keys.
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

// borders returns the quantiles of keys that separate the ranges.
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

// spread finds the parts of keys.
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

// part returns the part of a key in a lane.
func (s *spread) part(lane int, key []byte) int {
	b := s.borders[lane]
	return lane*s.ranges + sort.Search(len(b), func(i int) bool { return bytes.Compare(b[i], key) > 0 })
}
