package inventory

import "plinth/pipeline/inventory/source"

// A Raw is a batch of rows of the register, split into cells that are not read yet. It is filled in
// place and keeps its storage.
type Raw struct {
	Seq    int // 0 for the first batch of a register
	Rows   int // rows read, the rejected ones among them
	split  source.Rows
	shares []share // of the rows, where lists are exploded
}

func (r *Raw) reset() {
	r.Rows = 0
	r.split.Reset()
	clear(r.shares)
	r.shares = r.shares[:0]
}
