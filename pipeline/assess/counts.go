package assess

import (
	"fmt"
	"sync/atomic"

	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
)

// Counts count the buildings that were assessed and the rows that were rejected. Goroutines
// may share them.
type Counts struct{ Out, Rejected atomic.Int64 }

// Of returns the counts of a register that was read, and an error if a row was lost.
func (c *Counts) Of(read *inventory.Report) (output.Counts, error) {
	n := output.Counts{In: int64(read.Tally.In), Out: c.Out.Load(), Rejected: c.Rejected.Load()}
	if n.In != n.Out+n.Rejected {
		return n, fmt.Errorf("%w: %d in, %d out, %d rejected", output.ErrUnbalanced, n.In, n.Out, n.Rejected)
	}
	return n, nil
}
