package pipeline

import (
	"context"
	"errors"
	"fmt"
	"io"

	"plinth/pipeline/inventory"
)

// AssessOne reads the register up to the building called id and assesses it. The
// error says if the building is not there, was rejected, or cannot be assessed.
func (r *Run) AssessOne(ctx context.Context, id string) (*Assessment, error) {
	reader, err := r.Register()
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
		if errors.Is(err, io.EOF) {
			return nil, fmt.Errorf("no building %q in %s; ids are compared letter by letter, as the register has them", id, r.plan.Inventory.Path)
		}
		if err != nil {
			return nil, err
		}
		for i := range batch.Rejects {
			if batch.Rejects[i].ID == id {
				return nil, fmt.Errorf("building %q was rejected: %w", id, &batch.Rejects[i])
			}
		}
		for i := range batch.Buildings {
			if b := batch.Buildings[i]; b.ID == id {
				a := r.NewAssessment()
				if err := a.Assess(&b); err != nil {
					return nil, fmt.Errorf("building %q, line %d, cannot be assessed: %w", id, b.Line, err)
				}
				return a, nil
			}
		}
	}
}
