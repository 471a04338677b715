package assess

import (
	"context"
	"errors"
	"io"

	"plinth/pipeline/inventory"
)

// Register opens the register of the run. The end of ctx ends its reading. Close it when
// done.
func (study *Study) Register(ctx context.Context) (*inventory.Reader, error) {
	return study.OpenRegister(ctx, study.plan.Inventory.Path, 0)
}

// OpenRegister opens a register, or a part of one, that is written as the plan says,
// for batches of so many rows, 0 for the usual. The end of ctx ends its reading. Close it
// when done.
func (study *Study) OpenRegister(ctx context.Context, path string, rows int) (*inventory.Reader, error) {
	from := study.plan.Inventory
	from.Path = path
	return inventory.Open(&from, inventory.Options{
		Coverage: study.field.Bound(), ValuePerArea: study.plan.Consequence.ValuePerArea,
		Ground: study.ground.class,
		Soil:   study.ground.standard, LatestYear: study.plan.LatestYear(), BatchRows: rows, Context: ctx,
	})
}

// EachBatch reads the register batch by batch in one goroutine and shows each to see. It
// ends early without an error where see returns io.EOF. The report is that of what
// was read.
func (study *Study) EachBatch(ctx context.Context,
	see func(*inventory.Batch) error) (*inventory.Report, error) {
	reader, err := study.Register(ctx)
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
