package screen

import (
	"path/filepath"

	"plinth/pipeline/assess"
	"plinth/pipeline/inventory"
)

// An Outlet takes the encoded rows of one table with their sort keys. Buildings are sorted in
// the plan's order. The verdicts of a building are one record, for VerdictDecoder. Add must
// copy what it keeps.
type Outlet interface{ Add(key, row []byte) error }

// Outlets take the rows of all tables.
type Outlets struct{ Candidates, Buildings, Verdicts, Rejects Outlet }

// A Screener assesses buildings one after the other and hands their rows to outlets. It serves
// runs that are spread over machines, and belongs to one goroutine.
type Screener struct{ w *rowWriter }

// NewScreener returns a Screener for the rows of a register.
func NewScreener(study *assess.Study, register string, to Outlets) *Screener {
	return &Screener{newRowWriter(study, filepath.Base(register), to, new(assess.Counts))}
}

// Building assesses a building and writes its rows, or the row of its reject.
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
