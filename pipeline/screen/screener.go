package screen

import (
	"path/filepath"

	"plinth/pipeline/assess"
	"plinth/pipeline/inventory"
)

// What a run needs that is spread over machines: a way to read a part of a register,
// to take its buildings through the run and to get their rows, keyed. Screen puts
// the same pieces together on one machine.

// An Outlet takes rows of one table, each encoded by the table and with the key that
// it is sorted by: in the plan's order for buildings. The verdicts of a building are one
// record, for VerdictDecoder. Add must copy what it keeps.
type Outlet interface{ Add(key, row []byte) error }

// Outlets are where the rows of a run go.
type Outlets struct{ Candidates, Buildings, Verdicts, Rejects Outlet }

// A Screener takes buildings through a run, one after the other, and hands their
// rows to outlets. It is used by one goroutine.
type Screener struct{ w *rowWriter }

// NewScreener returns a Screener for the rows of a register.
func NewScreener(study *assess.Study, register string, to Outlets) *Screener {
	return &Screener{newRowWriter(study, filepath.Base(register), to, new(assess.Counts))}
}

// Building assesses a building and writes its rows, or that of its reject.
func (s *Screener) Building(b *inventory.Building) error { return s.w.Visit(b) }

// Reject writes the row of a reject.
func (s *Screener) Reject(r *inventory.Reject) error {
	s.w.Reject(r)
	return s.w.err
}

// Counts returns how many buildings were written and how many rows were rejected.
func (s *Screener) Counts() (out, rejected int64) {
	return s.w.counts.Out.Load(), s.w.counts.Rejected.Load()
}
