package assess

import (
	"context"
	"errors"
	"io"

	"github.com/paulmach/orb"

	"plinth/pipeline/inventory"
)

// Register opens the register of the plan. Reading ends with ctx. The caller closes it.
func (study *Study) Register(ctx context.Context) (*inventory.Reader, error) {
	return study.OpenRegister(ctx, study.plan.Inventory.Path, 0)
}

// OpenRegister opens a register, or a part of one, in the format of the plan; rows is the
// number of rows of a batch, 0 for the default. Reading ends with ctx. The caller closes it.
func (study *Study) OpenRegister(ctx context.Context, path string, rows int) (*inventory.Reader, error) {
	from := study.plan.Inventory
	from.Path = path
	var covered orb.Bound // not checked
	if study.HasHazard() {
		covered = study.field.Bound()
	}
	return inventory.Open(&from, inventory.Options{
		Coverage: covered, ValuePerArea: study.plan.Consequence.ValuePerArea,
		ValueRatio: func(u inventory.Use) float64 { return study.model.Worth(u.Split()).Value },
		Ground:     study.ground.class,
		Soil:       study.ground.standard, LatestYear: study.plan.LatestYear(), BatchRows: rows, Context: ctx,
	})
}

// EachBatch reads the register in one goroutine and calls see with every batch. It ends early
// and without an error if see returns io.EOF. The report covers what was read.
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
