package main

import (
	"bytes"
	"cmp"
	"hash/fnv"
	"reflect"
	"slices"
	"sort"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/transforms/stats"

	"plinth/pipeline/ranking"
)

func init() {
	beam.RegisterDoFn(keyOf)
	beam.RegisterDoFn(&spreadFn{})
	beam.RegisterType(reflect.TypeFor[sampleFn]())
	beam.RegisterType(reflect.TypeFor[draw]())
}

// spread puts the rows of each lane, a table or an order of the buildings, into
// ranges of their keys, so that a range can be sorted alone: all keys of one range
// come before those of the next. Range r of lane l is part l x ranges + r.
//
// It is a sample sort: the borders are quantiles of a sample of the keys.
func spread(s beam.Scope, lanes beam.PCollection, ranges int) beam.PCollection {
	samples := beam.CombinePerKey(s, &sampleFn{Size: perRange * ranges}, beam.ParDo(s, keyOf, lanes))
	return beam.ParDo(s, &spreadFn{Ranges: ranges}, lanes, beam.SideInput{Input: samples})
}

// perRange is how many keys are drawn for each range: with 64 the largest of 1000
// ranges holds about 1.5 times its share (the share is a mean of 64 exponential
// spacings, standard deviation 1/8).
const perRange = 64

func keyOf(lane int, r row) (int, []byte) { return lane, r.Key }

// A draw is keys drawn from a lane.
type draw struct{ Keys [][]byte }

// sampleFn draws the keys with the least hashes: which they are depends on the keys
// alone, not on how they came, so that equal runs have equal ranges.
type sampleFn struct{ Size int }

// CreateAccumulator returns an empty sample.
func (f *sampleFn) CreateAccumulator() draw { return draw{} }

// AddInput adds one key.
func (f *sampleFn) AddInput(a draw, key []byte) draw {
	a.Keys = append(a.Keys, bytes.Clone(key))
	if len(a.Keys) >= 4*f.Size {
		return f.ExtractOutput(a)
	}
	return a
}

// MergeAccumulators adds one sample to another.
func (f *sampleFn) MergeAccumulators(a, b draw) draw {
	a.Keys = append(a.Keys, b.Keys...)
	return f.ExtractOutput(a)
}

// ExtractOutput leaves the sample in its size.
func (f *sampleFn) ExtractOutput(a draw) draw {
	type hashed struct {
		hash uint64
		key  []byte
	}
	all := make([]hashed, len(a.Keys))
	for i, k := range a.Keys {
		h := fnv.New64a()
		h.Write(k)
		all[i] = hashed{h.Sum64(), k}
	}
	slices.SortFunc(all, func(x, y hashed) int {
		return cmp.Or(cmp.Compare(x.hash, y.hash), bytes.Compare(x.key, y.key))
	})
	keys := make([][]byte, min(len(all), f.Size))
	for i := range keys {
		keys[i] = all[i].key
	}
	return draw{keys}
}

// spreadFn finds the range of each row.
type spreadFn struct {
	Ranges  int
	borders map[int][][]byte // by lane, the first key of every range but the first
}

// ProcessElement emits the row under its part.
func (f *spreadFn) ProcessElement(lane int, r row, samples func(*int, *draw) bool, emit func(int, row)) error {
	if f.borders == nil {
		f.borders = make(map[int][][]byte)
		var l int
		var s draw
		for samples(&l, &s) {
			f.borders[l] = borders(s.Keys, f.Ranges)
		}
	}
	b := f.borders[lane]
	at := sort.Search(len(b), func(i int) bool { return bytes.Compare(b[i], r.Key) > 0 })
	emit(lane*f.Ranges+at, r)
	return nil
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

// sizes returns the number of rows of each part.
func sizes(s beam.Scope, parts beam.PCollection) beam.PCollection {
	return stats.Count(s, beam.DropValue(s, parts))
}

// before returns how many rows of its lane come before those of a part.
func before(part, ranges int, sizes func(*int, *int) bool) (n int64) {
	first := part / ranges * ranges
	var p, size int
	for sizes(&p, &size) {
		if p >= first && p < part {
			n += int64(size)
		}
	}
	return n
}

// sorted calls see with the rows of a part in the order of their keys, sorting on
// disk what does not fit into memory.
func sorted(memory int64, rows func(*row) bool, see func(key, r []byte) error) error {
	sorter := ranking.NewSorter(ranking.SorterOptions{Memory: memory})
	defer sorter.Close()
	var r row
	for rows(&r) {
		if err := sorter.Add(r.Key, r.Row); err != nil {
			return err
		}
	}
	all, err := sorter.Sorted()
	if err != nil {
		return err
	}
	for all.Next() {
		if err := see(all.Key(), all.Payload()); err != nil {
			return err
		}
	}
	return all.Err()
}
