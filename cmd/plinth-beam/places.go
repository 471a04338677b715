package main

import (
	"github.com/apache/beam/sdks/v2/go/pkg/beam"

	"plinth/pipeline"
	"plinth/pipeline/output"
)

func init() {
	beam.RegisterDoFn(&ordersFn{})
	beam.RegisterDoFn(&placeFn{})
	beam.RegisterDoFn(&byIDFn{})
	beam.RegisterDoFn(&noteFn{})
}

// A place is a building's place in an order of the run.
type place struct {
	Order int
	Place int64
}

// ordersFn emits the id of a building under each order but the plan's, with the key
// of the order.
type ordersFn struct {
	Job    job
	orders []pipeline.Order
	b      output.Building
}

// Setup opens the run.
func (f *ordersFn) Setup() error { return setOrders(f.Job.Plan, &f.orders) }

func setOrders(plan string, orders *[]pipeline.Order) error {
	run, err := openRun(plan)
	if err == nil {
		*orders = run.Orders()
	}
	return err
}

// ProcessElement emits the keys of one building.
func (f *ordersFn) ProcessElement(r row, emit func(int, row)) error {
	if _, err := output.Buildings.DecodeRow(r.Row, &f.b); err != nil {
		return err
	}
	for k := range f.orders[:len(f.orders)-1] {
		emit(k, row{f.orders[k].AppendKey(nil, &f.b), []byte(f.b.ID)})
	}
	return nil
}

// placeFn emits the places of the buildings of one range of an order.
type placeFn struct{ Job job }

// ProcessElement sorts one range.
func (f *placeFn) ProcessElement(part int, rows func(*row) bool, sizes func(*int, *int) bool, emit func(string, place)) error {
	at := before(part, f.Job.Ranges, sizes)
	return sorted(f.Job.Memory, rows, func(_, id []byte) error {
		at++
		emit(string(id), place{part / f.Job.Ranges, at})
		return nil
	})
}

// byIDFn emits buildings under their ids.
type byIDFn struct{ b output.Building }

// ProcessElement emits one building.
func (f *byIDFn) ProcessElement(r row, emit func(string, row)) error {
	if _, err := output.Buildings.DecodeRow(r.Row, &f.b); err != nil {
		return err
	}
	emit(f.b.ID, r)
	return nil
}

// noteFn enters the places of a building and gives it the key of the plan's order.
type noteFn struct {
	Job    job
	orders []pipeline.Order
	b      output.Building
}

// Setup opens the run.
func (f *noteFn) Setup() error { return setOrders(f.Job.Plan, &f.orders) }

// ProcessElement emits one building as a row of its table.
func (f *noteFn) ProcessElement(_ string, rows func(*row) bool, places func(*place) bool, emit func(int, row)) error {
	var r row
	for rows(&r) {
		if _, err := output.Buildings.DecodeRow(r.Row, &f.b); err != nil {
			return err
		}
		for p := (place{}); places(&p); {
			f.orders[p.Order].Note(&f.b, p.Place)
		}
		last := &f.orders[len(f.orders)-1]
		emit(buildingsTable, row{last.AppendKey(nil, &f.b), output.Buildings.AppendRow(nil, &f.b)})
	}
	return nil
}
