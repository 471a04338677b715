package pipeline

import (
	"context"
	"errors"
	"io"

	"plinth/pipeline/inventory"
)

// walk reads the register batch by batch in one goroutine and shows each to see. It
// ends early without an error where see returns io.EOF. The report is that of what
// was read.
func (r *Run) walk(ctx context.Context, see func(*inventory.Batch) error) (*inventory.Report, error) {
	reader, err := r.Register(ctx)
	if err != nil {
		return nil, err
	}
	defer reader.Close()
	var raw inventory.Raw
	var batch inventory.Batch
	for {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		err := reader.Read(&raw, &batch)
		if err == nil {
			err = see(&batch)
		}
		if errors.Is(err, io.EOF) {
			return reader.Report(), nil
		}
		if err != nil {
			return nil, err
		}
	}
}
