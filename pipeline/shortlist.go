package pipeline

import (
	"context"
	"errors"

	"plinth/pipeline/extsort"
	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
)

// A ranked is a building of the shortlist with its place in the screening.
type ranked struct {
	place    int
	building inventory.Building
}

// shortlist screens the whole register, writing nothing, and returns the foremost
// n buildings in order and the counts of the register. Sorted runs go into folder.
func (r *Run) shortlist(ctx context.Context, s Settings, folder string, n int) (list []ranked, found output.Counts, err error) {
	reader, err := r.Register(ctx)
	if err != nil {
		return nil, found, err
	}
	defer reader.Close()
	buildings := extsort.NewSorter(extsort.Options{Memory: s.Memory, Folder: folder})
	defer buildings.Close()
	out := Outlets{Candidates: nowhere{}, Buildings: buildings, Verdicts: nowhere{}, Rejects: nowhere{}}
	var seen counts
	visit := func() visitor { return r.rowWriter(r.plan.Inventory.Path, out, &seen) }
	if err := r.flow(ctx, reader, s.workers(), visit, s.Progress.watch("buildings")); err != nil {
		return nil, found, err
	}
	if found, err = seen.of(reader.Report()); err != nil {
		return nil, found, err
	}
	places := make(map[string]int)
	err = each(ctx, buildings, output.Buildings.Decoder(), func(b *output.Building, _ []byte) error {
		places[b.ID] = len(places) + 1
		if len(places) == n {
			return errEnough
		}
		return nil
	})
	if err := unlessEnough(err); err != nil {
		return nil, found, err
	}
	list, err = r.pick(ctx, places)
	return list, found, err
}

// nowhere is the outlet of rows that nobody reads.
type nowhere struct{}

func (nowhere) Add(key, row []byte) error { return nil }

// errEnough ends a walk over rows early.
var errEnough = errors.New("enough")

// unlessEnough returns err unless it is errEnough.
func unlessEnough(err error) error {
	if errors.Is(err, errEnough) {
		return nil
	}
	return err
}

// pick reads the register again and returns the buildings with the given places, in
// their order.
func (r *Run) pick(ctx context.Context, places map[string]int) ([]ranked, error) {
	list := make([]ranked, len(places))
	_, err := r.walk(ctx, func(batch *inventory.Batch) error {
		for i := range batch.Buildings {
			if place, ok := places[batch.Buildings[i].ID]; ok {
				list[place-1] = ranked{place, batch.Buildings[i]}
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	for i := range list {
		if list[i].place == 0 {
			return nil, errors.New("the register changed while it was read: a building of the shortlist is gone; run it again")
		}
	}
	return list, nil
}
