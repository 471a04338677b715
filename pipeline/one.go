package pipeline

import (
	"context"
	"fmt"
	"io"

	"plinth/pipeline/inventory"
)

// AssessOne reads the register up to the building called id and assesses it. The
// error says if the building is not there, was rejected, or cannot be assessed.
func (r *Run) AssessOne(ctx context.Context, id string) (*Assessment, error) {
	var found *Assessment
	near := ""
	_, err := r.walk(ctx, func(batch *inventory.Batch) error {
		for i := range batch.Rejects {
			if batch.Rejects[i].ID == id {
				return fmt.Errorf("building %q was rejected: %w", id, &batch.Rejects[i])
			}
		}
		for i := range batch.Buildings {
			b := &batch.Buildings[i]
			if near == "" && inventory.Alike(b.ID, id) {
				near = fmt.Sprintf("did you mean %q? ", b.ID)
			}
			if b.ID == id {
				found = r.NewAssessment()
				if err := found.Assess(b); err != nil {
					return fmt.Errorf("building %q, line %d, cannot be assessed: %w", id, b.Line, err)
				}
				return io.EOF
			}
		}
		return nil
	})
	if err == nil && found == nil {
		err = fmt.Errorf("no building %q in %s; %sids are compared letter by letter, as the register has them", id, r.plan.Inventory.Path, near)
	}
	return found, err
}
