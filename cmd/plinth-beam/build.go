package main

import (
	"sync"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"

	"plinth/pipeline"
	"plinth/pipeline/plan"
)

// A row is an encoded row of a table and the key it is sorted by.
type row struct{ Key, Row []byte }

// build adds the screening to a Beam pipeline.
func (j *job) build(s beam.Scope) {
	files := make([]registerFile, len(j.Registers))
	for i, path := range j.Registers {
		files[i] = registerFile{i, path}
	}
	stretches, inputs := beam.ParDo2(s, &splitFn{Job: *j}, beam.CreateList(s, files))
	stretches = beam.Reshuffle(s, stretches)

	seen := beam.ParDo(s, &idsFn{Job: *j}, stretches)
	twins := beam.ParDo(s, findTwins, beam.CoGroupByKey(s, beam.CombinePerKey(s, earliest, seen), seen))

	both := beam.CoGroupByKey(s, beam.ParDo(s, byName, stretches), twins)
	buildings, others, counts := beam.ParDo3(s, &assessFn{Job: *j}, both)

	ranked := beam.Flatten(s, j.rank(s, buildings), others)
	pieces := j.write(s, spread(s, ranked, j.Ranges))

	beam.ParDo0(s, &manifestFn{Job: *j}, beam.Impulse(s),
		beam.SideInput{Input: counts}, beam.SideInput{Input: inputs}, beam.SideInput{Input: pieces})
}

// rank gives every building its place in all orders but the plan's, and the key of
// the plan's.
func (j *job) rank(s beam.Scope, buildings beam.PCollection) beam.PCollection {
	keyed := beam.ParDo(s, &ordersFn{Job: *j}, buildings)
	ranges := spread(s, keyed, j.Ranges)
	places := beam.ParDo(s, &placeFn{Job: *j}, beam.GroupByKey(s, ranges), beam.SideInput{Input: sizes(s, ranges)})
	return beam.ParDo(s, &noteFn{Job: *j}, beam.CoGroupByKey(s, beam.ParDo(s, &byIDFn{}, buildings), places))
}

// write sorts and writes the ranges of all tables.
func (j *job) write(s beam.Scope, ranges beam.PCollection) beam.PCollection {
	grouped := beam.GroupByKey(s, ranges)
	scores := beam.ParDo(s, &scoresFn{Job: *j}, grouped)
	ties := beam.ParDo(s, &tiesFn{Job: *j}, beam.Impulse(s), beam.SideInput{Input: scores})
	return beam.ParDo(s, &writeFn{Job: *j}, grouped, beam.SideInput{Input: sizes(s, ranges)}, beam.SideInput{Input: ties})
}

// openRun returns the run of the plan at path, opened once a process.
func openRun(path string) (*pipeline.Run, error) {
	opened.Lock()
	defer opened.Unlock()
	if r := opened.runs[path]; r != nil {
		return r, nil
	}
	p, err := plan.Load(path)
	if err != nil {
		return nil, err
	}
	r, err := pipeline.Open(p)
	if err == nil {
		opened.runs[path] = r
	}
	return r, err
}

var opened = struct {
	sync.Mutex
	runs map[string]*pipeline.Run
}{runs: make(map[string]*pipeline.Run)}
