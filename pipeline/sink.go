package pipeline

import (
	"errors"
	"fmt"
	"path/filepath"
	"sync/atomic"

	"plinth/hazard/field"
	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
)

// A sink takes the rows of a run in any order and gives them back in the order
// of the files. Each kind of row has a sorter of its own, whose keys are unique.
type sink struct {
	candidates, buildings, verdicts, rejects *ranking.Sorter

	run     *Run
	options ranking.SorterOptions
	counts
}

// counts are of the buildings that have gone into a sink and of the rows refused.
type counts struct{ nOut, nRejected atomic.Int64 }

func newSink(r *Run, o ranking.SorterOptions) *sink {
	o.Memory = max(1<<20, o.Memory/4)
	return &sink{
		run: r, options: o,
		candidates: ranking.NewSorter(o), buildings: ranking.NewSorter(o),
		verdicts: ranking.NewSorter(o), rejects: ranking.NewSorter(o),
	}
}

// Close removes what the sorters left on disk.
func (s *sink) Close() error {
	return errors.Join(s.candidates.Close(), s.buildings.Close(), s.verdicts.Close(), s.rejects.Close())
}

// A rowWriter is one goroutine's way into outlets.
type rowWriter struct {
	out       Outlets
	counts    *counts
	file      string // the register, as messages call it
	a         *Assessment
	candidate output.Candidate
	building  output.Building
	verdict   output.Verdict
	refused   output.Reject
	key, row  []byte
	text      textBuffer
	err       error // the first failure; nothing is written after it
}

func (s *sink) writer() visitor {
	out := Outlets{Candidates: s.candidates, Buildings: s.buildings, Verdicts: s.verdicts, Rejects: s.rejects}
	return s.run.rowWriter(filepath.Base(s.run.plan.Inventory.Path), out, &s.counts)
}

func (r *Run) rowWriter(file string, out Outlets, n *counts) *rowWriter {
	return &rowWriter{out: out, counts: n, file: file, a: r.NewAssessment()}
}

// visit assesses a building and writes its rows.
func (w *rowWriter) visit(b *inventory.Building) error {
	if err := w.a.Assess(b); err != nil {
		w.unassessed(b, err)
	} else {
		w.assessed(w.a)
	}
	return w.err
}

// add encodes row and hands it to an outlet under the key in w.key.
func add[R any](w *rowWriter, to Outlet, t *output.Table[R], row *R) {
	if w.err != nil {
		return
	}
	w.row = t.AppendRow(w.row[:0], row)
	w.err = to.Add(w.key, w.row)
}

// reject writes a row that the register's reader could not use.
func (w *rowWriter) reject(r *inventory.Reject) {
	w.refuse(output.Reject{
		File: w.file, Line: int64(r.Line), BuildingID: r.ID, Column: r.Column, RawValue: r.Raw,
		Rule: r.Rule.Spec().Finding + detail(r.Detail), Remedy: r.Remedy(),
	})
}

func detail(s string) string {
	if s == "" {
		return ""
	}
	return ": " + s
}

// unassessed writes a building that could be read but not taken further.
func (w *rowWriter) unassessed(b *inventory.Building, err error) {
	r := output.Reject{
		File: w.file, Line: int64(b.Line), BuildingID: b.ID, Rule: err.Error(),
		Remedy: "correct the value, or leave the building to a study of its own",
	}
	var outside *field.OutsideError
	switch {
	case errors.As(err, &outside):
		r.Column = w.a.run.column(inventory.Lon)
		r.RawValue = fmt.Sprintf("%g, %g", b.Lon, b.Lat)
		r.Remedy = "check the coordinates, or give a hazard file that covers the place (hazard.path, hazard.max_distance_km)"
	case errors.Is(err, field.ErrNoClass):
		r.Column = w.a.run.column(inventory.SiteClass)
		r.Remedy = "give the building its site class, or the plan a hazard.site_class for buildings without one"
	}
	w.refuse(r)
}

func (w *rowWriter) refuse(r output.Reject) {
	w.refused = r
	w.key = ranking.AppendInt(w.key[:0], r.Line)
	w.key = ranking.AppendString(w.key, r.BuildingID)
	add(w, w.out.Rejects, &output.Rejects, &w.refused)
	w.counts.nRejected.Add(1)
}

// assessed writes the rows of a building: one for it, one for each measure that
// may be chosen, one for each rule that is not clear.
func (w *rowWriter) assessed(a *Assessment) {
	w.text.reset()
	w.fillBuilding(a)
	b := &w.building
	w.key = ranking.AppendDescending(w.key[:0], b.AnnualLoss)
	w.key = ranking.AppendString(w.key, b.ID)
	add(w, w.out.Buildings, &output.Buildings, b)
	for i := range a.Options {
		o := &a.Options[i]
		if o.Feasible() {
			w.fillCandidate(a, o)
			c := &w.candidate
			w.key = ranking.AppendDescending(w.key[:0], c.Score)
			w.key = ranking.AppendString(w.key, c.BuildingID)
			w.key = ranking.AppendString(w.key, c.Measure)
			add(w, w.out.Candidates, &output.Candidates, c)
		}
		w.verdicts(a, o)
	}
	w.counts.nOut.Add(1)
}
