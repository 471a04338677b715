package main

import (
	"path/filepath"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"

	"plinth/pipeline"
	"plinth/pipeline/inventory"
	"plinth/pipeline/ranking"
)

func init() {
	beam.RegisterDoFn(&assessFn{})
}

// The tables of a run, which are written in ranges of their own.
const (
	buildingsTable = iota
	candidatesTable
	verdictsTable
	rejectsTable
)

// A count is of the rows of a stretch and what became of them.
type count struct{ In, Out, Rejected int64 }

// assessFn takes the buildings of a stretch through the run.
type assessFn struct{ Job job }

// an outlet turns rows of a table into elements.
type outlet func(key, row []byte)

func (o outlet) Add(key, row []byte) error {
	o(append([]byte(nil), key...), append([]byte(nil), row...))
	return nil
}

// ProcessElement emits the rows of one stretch: buildings without a place yet, those
// of the other tables under the table.
func (f *assessFn) ProcessElement(_ string, stretches func(*stretch) bool, twins func(*twin) bool, building func(row), other func(int, row), done func(count)) error {
	run, err := openRun(f.Job.Plan)
	if err != nil {
		return err
	}
	again := make(map[int]twin)
	for t := (twin{}); twins(&t); {
		again[t.Nth] = t
	}
	var s stretch
	for stretches(&s) {
		n, err := f.assess(run, &s, again, building, other)
		if err != nil {
			return err
		}
		done(n)
	}
	return nil
}

func (f *assessFn) assess(run *pipeline.Run, s *stretch, again map[int]twin, building func(row), other func(int, row)) (n count, err error) {
	table := func(t int) outlet { return func(key, r []byte) { other(t, row{key, r}) } }
	screener := run.NewScreener(s.File.Path, pipeline.Outlets{
		Buildings:  outlet(func(key, r []byte) { building(row{key, r}) }),
		Candidates: table(candidatesTable), Verdicts: table(verdictsTable),
		Rejects: outlet(func(key, r []byte) { // lines are of a file
			other(rejectsTable, row{append(ranking.AppendInt(nil, int64(s.File.Number)), key...), r})
		}),
	})
	nth := 0
	err = s.each(run, f.Job.Rows, func(r *inventory.Reader, b *inventory.Batch) error {
		n.In += int64(b.Rows)
		for i := range b.Rejects {
			if err := screener.Reject(&b.Rejects[i]); err != nil {
				return err
			}
		}
		for i := range b.Buildings {
			bl := &b.Buildings[i]
			t, twice := again[nth]
			nth++
			if !twice {
				if err := screener.Building(bl); err != nil {
					return err
				}
				continue
			}
			file := ""
			if t.First.Number != s.File.Number {
				file = filepath.Base(t.First.Path)
			}
			reject := r.Duplicate(bl, t.Line, file)
			if err := screener.Reject(&reject); err != nil {
				return err
			}
		}
		return nil
	})
	n.Out, n.Rejected = screener.Counts()
	return n, err
}
