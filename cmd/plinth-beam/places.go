package main

import (
	"encoding/binary"
	"plinth/pipeline/screen"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
)

func init() {
	beam.RegisterDoFn(&placeFn{})
}

// placeFn finds the places of the buildings of one range of an order.
type placeFn struct {
	Job    job
	spread *spread
}

// ProcessElement sorts one range of an order and emits the place of each building, as a record with
// the building's key under the part of the table of buildings that it belongs to. For the plan's
// order it also emits what ties are found by.
func (f *placeFn) ProcessElement(part int, blocks func(*[]byte) bool, borders func(*int, *draw) bool, tallies func(*tally) bool,
	places, scores func(int, []byte)) error {
	run, err := openRun(f.Job.Plan)
	if err != nil {
		return err
	}
	order := part/f.Job.Ranges - tables
	if order == len(screen.Orders(run))-1 {
		var all []byte
		err := sorted(f.Job.Memory, blocks, func(_, score []byte) error { all = append(all, score...); return nil })
		scores(part%f.Job.Ranges, all)
		return err
	}
	if f.spread == nil {
		f.spread = newSpread(f.Job.Ranges, borders)
	}
	n := whole(tallies)
	at := n.before(part, f.Job.Ranges)
	noted := newGatherer(f.Job.Ranges, f.Job.Memory, places) // the first parts are of the buildings
	var place []byte
	err = sorted(f.Job.Memory, blocks, func(_, chosen []byte) error {
		at++
		place = binary.AppendVarint(append(place[:0], byte(order)), at)
		noted.add(f.spread.part(buildingsTable, chosen), chosen, place)
		return nil
	})
	noted.flushAll()
	return err
}
