package main

import (
	"plinth/pipeline/assess"
	"plinth/pipeline/extsort"
	"plinth/pipeline/output"
	"plinth/pipeline/screen"
)

// A lane numbers records that are sorted among themselves: the rows of one table, or the buildings
// in one order of the run. The last lane is the plan's order. It shares its keys with the table of
// buildings, and so the borders of its ranges.
const (
	buildingsTable = iota
	candidatesTable
	verdictsTable
	rejectsTable
	tables // lane of the first order
)

func laneCount(run *assess.Study) int { return tables + len(screen.Orders(run)) }

// lanes passes the rows of a Screener to add, each with its lane. add must copy what it keeps.
type lanes struct {
	orders []screen.Order
	add    func(lane int, key, row []byte)

	b               output.Building
	key, chosen, to []byte
}

type outlet func(key, row []byte) error

func (o outlet) Add(key, row []byte) error { return o(key, row) }

// newScreener returns a Screener for a register. Its rows go into lanes.
func newScreener(run *assess.Study, j *job, register int, add func(lane int, key, row []byte)) *screen.Screener {
	l := &lanes{orders: screen.Orders(run), add: add}
	table := func(lane int) outlet {
		return func(key, row []byte) error { add(lane, key, row); return nil }
	}
	return screen.NewScreener(run, j.Registers[register], screen.Outlets{
		Buildings: outlet(l.building), Candidates: table(candidatesTable), Verdicts: table(verdictsTable),
		Rejects: outlet(func(key, row []byte) error { // lines are of a register
			l.key = append(extsort.AppendInt(l.key[:0], int64(register)), key...)
			add(rejectsTable, l.key, row)
			return nil
		}),
	})
}

// building adds a building to its table and to every order. A record of the plan's order holds what
// ties are found by. A record of another order holds the building's key in the plan's order. In the
// table, the places of a building come before its row.
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
