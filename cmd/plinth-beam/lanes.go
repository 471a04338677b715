package main

import (
	"plinth/pipeline"
	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
)

// A lane is a set of records that are sorted together: the rows of a table, or the buildings in
// one of the orders of the run. The plan's order is the last lane; it has the keys, and so the
// borders, of the table of buildings.
const (
	buildingsTable = iota
	candidatesTable
	verdictsTable
	rejectsTable
	tables // lane of the first order
)

func laneCount(run *pipeline.Run) int { return tables + len(run.Orders()) }

// lanes distributes the rows of a Screener to lanes. add must not keep its arguments.
type lanes struct {
	orders []pipeline.Order
	add    func(lane int, key, row []byte)

	b               output.Building
	key, chosen, to []byte
}

type outlet func(key, row []byte) error

func (o outlet) Add(key, row []byte) error { return o(key, row) }

// newScreener returns a screener for a register whose rows go to lanes.
func newScreener(run *pipeline.Run, j *job, register int,
	add func(lane int, key, row []byte)) *pipeline.Screener {
	l := &lanes{orders: run.Orders(), add: add}
	table := func(lane int) outlet {
		return func(key, row []byte) error { add(lane, key, row); return nil }
	}
	return run.NewScreener(j.Registers[register], pipeline.Outlets{
		Buildings: outlet(l.building), Candidates: table(candidatesTable), Verdicts: table(verdictsTable),
		Rejects: outlet(func(key, row []byte) error { // lines are of a register
			l.key = append(ranking.AppendInt(l.key[:0], int64(register)), key...)
			add(rejectsTable, l.key, row)
			return nil
		}),
	})
}

// building adds a building to its table and to every order: to the plan's order with the data
// of its ties, to the others with its key in the plan's order. In the table, the row of a
// building follows its places.
func (l *lanes) building(_, row []byte) error {
	if _, err := output.Buildings.DecodeRow(row, &l.b); err != nil {
		return err
	}
	last := len(l.orders) - 1
	l.chosen = l.orders[last].AppendKey(l.chosen[:0], &l.b)
	l.to = append(append(l.to[:0], byte(last)), row...)
	l.add(buildingsTable, l.chosen, l.to)
	for k := range l.orders[:last] {
		l.key = l.orders[k].AppendKey(l.key[:0], &l.b)
		l.add(tables+k, l.key, l.chosen)
	}
	l.to = appendScore(l.to[:0], &l.b)
	l.add(tables+last, l.chosen, l.to)
	return nil
}
