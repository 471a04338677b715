package screen

import (
	"errors"

	"plinth/pipeline/assess"
	"plinth/pipeline/extsort"
)

// A sink takes the rows of a screening in any order and returns them in the order of the
// files. Each kind of row has its own sorter, whose keys are unique.
type sink struct {
	candidates, buildings, verdicts, rejects *extsort.Sorter

	order    Order           // the plan's
	placings []*placing      // in the others
	digests  *extsort.Sorter // in the plan's order

	study  *assess.Study
	counts assess.Counts
}

// Parts of the memory of a sink, in sixteenths. A building has about four candidates of 700
// bytes, a row of 1500 bytes, a digest of 700 bytes and twelve verdicts of 20 bytes.
const (
	candidatesPart = 6
	buildingsPart  = 4
	digestsPart    = 2
	verdictsPart   = 1
	rejectsPart    = 1
	ordersPart     = 2 // of all orders together
)

func newSink(study *assess.Study, o extsort.Options) *sink {
	whole := o.Memory
	if whole <= 0 {
		whole = extsort.DefaultMemory
	}
	part := func(n int64) extsort.Options {
		o.Memory = max(1<<20, whole*n/16)
		return o
	}
	s := &sink{
		study:      study,
		candidates: extsort.NewSorter(part(candidatesPart)),
		buildings:  extsort.NewSorter(part(buildingsPart)),
		digests:    extsort.NewSorter(part(digestsPart)),
		verdicts:   extsort.NewSorter(part(verdictsPart)), rejects: extsort.NewSorter(part(rejectsPart)),
	}
	orders := Orders(study)
	small := part(ordersPart)
	small.Memory = max(1<<20, small.Memory/int64(len(orders)))
	last := len(orders) - 1
	s.order = orders[last]
	for _, o := range orders[:last] {
		s.placings = append(s.placings, &placing{Order: o, sorter: extsort.NewSorter(small)})
	}
	return s
}

// sorters returns every sorter of the sink, in an order that depends on the plan alone.
func (s *sink) sorters() []*extsort.Sorter {
	list := []*extsort.Sorter{s.candidates, s.buildings, s.digests, s.verdicts, s.rejects}
	for _, p := range s.placings {
		list = append(list, p.sorter)
	}
	return list
}

// Close removes the files of the sorters, except the runs of a checkpoint.
func (s *sink) Close() error {
	var errs []error
	for _, sorter := range s.sorters() {
		errs = append(errs, sorter.Close())
	}
	return errors.Join(errs...)
}
