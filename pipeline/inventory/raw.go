package inventory

import "github.com/paulmach/orb"

// A Raw is a batch of rows as the register has them, split into cells but not
// understood yet. It is filled in place and keeps its storage.
type Raw struct {
	Seq     int // 0 for the first batch of a register
	Rows    int // rows read, the rejected ones among them
	lines   []int
	cells   []string       // of the picked columns, row after row
	shapes  []orb.Geometry // of the rows, in formats with geometry
	shares  []share        // of the rows, where lists are exploded
	rejects []Reject       // rows that could not be split
}

func (r *Raw) reset() {
	r.Rows = 0
	clear(r.cells)
	clear(r.rejects)
	clear(r.shapes)
	clear(r.shares)
	r.lines, r.cells, r.shapes, r.shares, r.rejects = r.lines[:0], r.cells[:0], r.shapes[:0], r.shares[:0], r.rejects[:0]
}
