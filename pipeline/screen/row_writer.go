package screen

import (
	"errors"
	"fmt"
	"path/filepath"

	"plinth/hazard/field"
	"plinth/pipeline/assess"
	"plinth/pipeline/extsort"
	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
)

// A rowWriter assesses the buildings of one goroutine and hands their rows to outlets.
type rowWriter struct {
	out        Outlets
	sink       *sink // nil if the outlets are not those of a sink
	counts     *assess.Counts
	order      Order
	file       string // the register, as messages call it
	a          *assess.Assessment
	candidates []output.Candidate // of the building, measures that may be chosen
	building   output.Building
	verdicts   []byte // of the building
	refused    output.Reject
	findings   []numbered // of a measure, those that are not clear
	digest     assess.Digest
	key, row   []byte
	text       textBuffer
	err        error // the first failure; nothing is written after it
}

func (s *sink) writer() assess.Visitor {
	out := Outlets{Candidates: s.candidates, Buildings: s.buildings, Verdicts: s.verdicts, Rejects: s.rejects}
	w := newRowWriter(s.study, filepath.Base(s.study.Plan().Inventory.Path), out, &s.counts)
	w.sink = s
	return w
}

func newRowWriter(study *assess.Study, file string, out Outlets, n *assess.Counts) *rowWriter {
	orders := Orders(study)
	return &rowWriter{out: out, counts: n, order: orders[len(orders)-1], file: file, a: study.NewAssessment()}
}

// Visit assesses a building and writes its rows.
func (w *rowWriter) Visit(b *inventory.Building) error {
	err := w.a.Assess(b)
	if err == nil {
		err = w.fill(b)
	}
	if err != nil {
		w.unassessed(b, err)
	} else {
		w.assessed()
	}
	return w.err
}

// fill makes the rows of the building that was assessed.
func (w *rowWriter) fill(b *inventory.Building) (err error) {
	defer assess.CatchPanic(b, &err)
	a := w.a
	w.text.reset()
	w.fillBuilding(a)
	w.candidates = w.candidates[:0]
	for i := range a.Options {
		if o := &a.Options[i]; o.Feasible() {
			w.candidates = append(w.candidates, output.Candidate{})
			w.fillCandidate(&w.candidates[len(w.candidates)-1], o)
		}
	}
	w.verdicts = w.appendVerdicts(w.verdicts[:0], a)
	return nil
}

// add hands the encoded row in w.row to an outlet under the key in w.key.
func (w *rowWriter) add(to Outlet) {
	if w.err == nil {
		w.err = to.Add(w.key, w.row)
	}
}

// Reject writes the row of a reject of the register.
func (w *rowWriter) Reject(r *inventory.Reject) {
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

// unassessed writes the reject of a building that could be read but not assessed.
func (w *rowWriter) unassessed(b *inventory.Building, err error) {
	r := output.Reject{
		File: w.file, Line: int64(b.Line), BuildingID: b.ID, Rule: err.Error(),
		Remedy: "correct the value, or leave the building to a study of its own",
	}
	var outside *field.OutsideError
	failed := assess.FailureOf(err)
	switch {
	case failed != nil:
		r.RawValue, r.Rule, r.Remedy = failed.Cause, failed.Finding(), failed.Remedy()
	case errors.As(err, &outside):
		r.Column = w.a.Study().Column(inventory.Lon)
		r.RawValue = fmt.Sprintf("%g, %g", b.Lon, b.Lat)
		r.Remedy = "check the coordinates, or give a hazard file that covers the place (hazard.path, " +
			"hazard.max_distance_km)"
	case errors.Is(err, field.ErrNoClass):
		r.Column = w.a.Study().Column(inventory.SiteClass)
		r.Remedy = "give the building its site class, or the plan a hazard.site_class for buildings " +
			"without one"
	}
	w.refuse(r)
}

func (w *rowWriter) refuse(r output.Reject) {
	w.refused = r
	w.key = extsort.AppendInt(w.key[:0], r.Line)
	w.key = extsort.AppendString(w.key, r.BuildingID)
	w.row = output.Rejects.AppendRow(w.row[:0], &w.refused)
	w.add(w.out.Rejects)
	w.counts.Rejected.Add(1)
}

// assessed writes the row of a building, those of its feasible measures and the record of its
// verdicts.
func (w *rowWriter) assessed() {
	n := w.counts.Out.Add(1) - 1
	b := &w.building
	w.key = appendNumber(w.order.AppendKey(w.key[:0], b), n)
	w.row = output.Buildings.AppendRow(w.row[:0], b)
	w.add(w.out.Buildings)
	if w.sink != nil {
		w.digested()
		w.place(n)
	}
	for i := range w.candidates {
		c := &w.candidates[i]
		w.key = extsort.AppendDescending(w.key[:0], c.Score)
		w.key = extsort.AppendString(w.key, c.BuildingID)
		w.key = extsort.AppendString(w.key, c.Measure)
		w.row = output.Candidates.AppendRow(w.row[:0], c)
		w.add(w.out.Candidates)
	}
	if len(w.verdicts) > 0 {
		w.key = extsort.AppendString(w.key[:0], b.ID)
		w.row = append(w.row[:0], w.verdicts...)
		w.add(w.out.Verdicts)
	}
}

// digested writes the digest of the building under its key in the plan's order, which is in
// w.key.
func (w *rowWriter) digested() {
	w.a.Digest(&w.digest)
	w.row = w.digest.Append(w.row[:0])
	w.add(w.sink.digests)
}

// place writes the keys of building n in every other order.
func (w *rowWriter) place(n int64) {
	b := &w.building
	w.row = w.row[:0]
	for _, p := range w.sink.placings {
		w.key = appendNumber(p.AppendKey(w.key[:0], b), n)
		w.add(p.sorter)
	}
}
