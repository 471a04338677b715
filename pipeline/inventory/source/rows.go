package source

import "github.com/paulmach/orb"

// Rows are some rows of a register, split into cells and not understood yet. They are
// filled in place and keep their storage.
type Rows struct {
	N      int // rows read, those that cannot be used among them
	Lines  []int
	Cells  []string       // of the picked columns, row after row
	Shapes []orb.Geometry // of the rows, in formats with geometry
	Bad    []Bad          // rows that cannot be used, by line
}

// A Bad row could not be split into cells, or its geometry cannot be read.
type Bad struct {
	Line   int // of the file, first line 1; a feature's number in formats without lines
	Fault  Fault
	Raw    string // the first cell, where there is one
	Detail string // in words
}

// A Fault says why a row cannot be used.
type Fault uint8

// The faults.
const (
	Ragged      Fault = iota // more or fewer cells than the header has
	BrokenQuote              // a quotation mark stands where none may
	BadFeature               // no feature, or its geometry is no place of one building
)

// Reset empties the rows.
func (r *Rows) Reset() {
	clear(r.Cells)
	clear(r.Shapes)
	clear(r.Bad)
	r.N, r.Lines, r.Cells, r.Shapes, r.Bad = 0, r.Lines[:0], r.Cells[:0], r.Shapes[:0], r.Bad[:0]
}
