package main

import (
	"encoding/binary"
	"errors"
	"slices"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"

	"plinth/pipeline/output"
	"plinth/pipeline/plan"
	"plinth/pipeline/ranking"
	"plinth/pipeline/screen"
)

func init() {
	beam.RegisterDoFn(&writeFn{})
}

// writeFn writes the ranges of tables as Parquet and CSV, as the plan asks. Lists for people are CSV
// only, as plinth screen writes them.
type writeFn struct{ Job job }

// ProcessElement sorts one range and writes its files.
func (f *writeFn) ProcessElement(part int, blocks func(*[]byte) bool, tallies func(*tally) bool, ties func(*tie) bool, emit func(piece)) error {
	run, err := openRun(f.Job.Plan)
	if err != nil {
		return err
	}
	w := &pieceWriter{job: &f.Job, run: run, part: part, emit: emit}
	w.rows = func(see func([]byte) error) error {
		return sorted(f.Job.Memory, blocks, func(_, row []byte) error { return see(row) })
	}
	n := whole(tallies)
	at := n.before(part, f.Job.Ranges)
	switch part / f.Job.Ranges {
	case buildingsTable:
		return f.buildings(w, at, n.Out, ties)
	case candidatesTable:
		return writePiece(w, &output.Candidates, output.Candidates.Decoder(), formats(run.Plan()), func(c *output.Candidate) {
			at++
			c.Rank = at
		})
	case verdictsTable:
		return writePiece(w, &output.Verdicts, screen.VerdictDecoder(), []string{output.FormatCSV}, func(*output.Verdict) {})
	}
	return writePiece(w, &output.Rejects, output.Rejects.Decoder(), []string{output.FormatCSV}, func(*output.Reject) {})
}

var errNoPlace = errors.New("plinth-beam: a building without a place in every order; please report this")

// buildings writes a range of the n buildings with their places. The first place of the range is the
// one after at.
func (f *writeFn) buildings(w *pieceWriter, at, n int64, ties func(*tie) bool) error {
	var ranker ranking.Ranker
	var words []byte
	for t := (tie{}); ties(&t); {
		if t.Range == w.part%f.Job.Ranges {
			ranker = t.Before
		}
	}
	orders := screen.Orders(w.run)
	places := make([]int64, len(orders)) // of the next building, one an order
	last := len(orders) - 1
	records := w.rows // the places of a building, then its row
	w.rows = func(see func([]byte) error) error {
		return records(func(record []byte) error {
			if len(record) == 0 || int(record[0]) > last {
				return errDamagedBlock
			}
			if k := int(record[0]); k < last {
				places[k], _ = binary.Varint(record[1:])
				return nil
			}
			if slices.Contains(places[:last], 0) {
				return errNoPlace
			}
			err := see(record[1:])
			clear(places)
			return err
		})
	}
	return writePiece(w, &output.Buildings, output.Buildings.Decoder(), formats(w.run.Plan()), func(b *output.Building) {
		at++
		places[last] = at
		for k := range orders {
			orders[k].Note(b, places[k])
		}
		b.TieGroup = int64(ranker.Next(b.Score, scale(b)).Group)
		words = b.Describe(n, words)
	})
}

// formats returns the formats of a plan that are written here.
func formats(p *plan.Plan) []string {
	var list []string
	for _, f := range []string{output.FormatParquet, output.FormatCSV} {
		if slices.Contains(p.Output.Formats, f) {
			list = append(list, f)
		}
	}
	return list
}
