package main

import (
	"reflect"
	"sync"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"

	"plinth/pipeline/assess"
	"plinth/pipeline/plan"
)

// Workers run in other processes. There, whatever travels between steps is known by its registered
// name alone.
func init() {
	for _, t := range []reflect.Type{
		reflect.TypeFor[stretch](), reflect.TypeFor[input](), reflect.TypeFor[draw](), reflect.TypeFor[sampleFn](),
		reflect.TypeFor[twin](), reflect.TypeFor[tally](), reflect.TypeFor[tie](), reflect.TypeFor[piece](),
	} {
		beam.RegisterType(t)
	}
}

// build adds the screening to a Beam pipeline.
func (j *job) build(s beam.Scope) {
	registers := make([]int, len(j.Registers))
	for i := range registers {
		registers[i] = i
	}
	stretches, inputs := beam.ParDo2(s, &splitFn{Job: *j}, beam.CreateList(s, registers))
	stretches = beam.Reshuffle(s, stretches)

	ids, keys := beam.ParDo2(s, &scoutFn{Job: *j}, stretches)
	twins := beam.ParDo(s, &twinsFn{Job: *j}, beam.GroupByKey(s, ids))
	borders := beam.SideInput{Input: beam.CombinePerKey(s, &sampleFn{Ranges: j.Ranges}, keys)}

	both := beam.CoGroupByKey(s, beam.ParDo(s, byName, stretches), twins)
	rows, orders, tallies := beam.ParDo3(s, &assessFn{Job: *j}, both, borders)
	total := beam.SideInput{Input: beam.Combine(s, addTallies, tallies)}

	places, scores := beam.ParDo2(s, &placeFn{Job: *j}, beam.GroupByKey(s, orders), borders, total)
	ties := beam.ParDo(s, &tiesFn{Job: *j}, beam.Impulse(s), beam.SideInput{Input: scores})

	parts := beam.GroupByKey(s, beam.Flatten(s, rows, places))
	pieces := beam.ParDo(s, &writeFn{Job: *j}, parts, total, beam.SideInput{Input: ties})
	beam.ParDo0(s, &manifestFn{Job: *j}, beam.Impulse(s),
		total, beam.SideInput{Input: inputs}, beam.SideInput{Input: pieces})
}

// openRun returns the study of the plan at path. A process opens each plan once.
func openRun(path string) (*assess.Study, error) {
	opened.Lock()
	defer opened.Unlock()
	if r := opened.runs[path]; r != nil {
		return r, nil
	}
	p, err := plan.Load(path)
	if err != nil {
		return nil, err
	}
	r, err := assess.Open(p)
	if err == nil {
		opened.runs[path] = r
	}
	return r, err
}

var opened = struct {
	sync.Mutex
	runs map[string]*assess.Study
}{runs: make(map[string]*assess.Study)}
