package confirm

import (
	"context"
	"errors"

	"plinth/pipeline/assess"
	"plinth/pipeline/extsort"
	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
)

// A ranked is a building of the shortlist with its place in the screening.
type ranked struct {
	place    int
	building inventory.Building
}

// shortlist assesses the whole register, writing nothing, and returns the foremost n
// buildings in the plan's order and the counts of the register. Sorted runs go into folder.
func shortlist(ctx context.Context, study *assess.Study, s assess.Settings, folder string,
	n int) ([]ranked, output.Counts, error) {
	var counts assess.Counts
	reader, err := study.Register(ctx)
	if err != nil {
		return nil, output.Counts{}, err
	}
	defer reader.Close()
	ids := extsort.NewSorter(extsort.Options{Memory: s.Memory, Folder: folder})
	defer ids.Close()
	visit := func() assess.Visitor { return &ranker{a: study.NewAssessment(), ids: ids, counts: &counts} }
	if err := study.Flow(ctx, reader, s.Goroutines(), visit, s.Progress.Watch("buildings")); err != nil {
		return nil, output.Counts{}, err
	}
	found, err := counts.Of(reader.Report())
	if err != nil {
		return nil, found, err
	}
	places := make(map[string]int)
	err = ids.Each(ctx, func(_, id []byte) error {
		if places[string(id)] = len(places) + 1; len(places) == n {
			return extsort.ErrEnough
		}
		return nil
	})
	if err != nil {
		return nil, found, err
	}
	list, err := pick(ctx, study, places)
	return list, found, err
}

// A ranker assesses the buildings of one worker and hands their ids to a sorter, under the
// key of the plan's order.
type ranker struct {
	a      *assess.Assessment
	ids    *extsort.Sorter
	counts *assess.Counts
	key    []byte
}

func (w *ranker) Reject(*inventory.Reject) { w.counts.Rejected.Add(1) }

func (w *ranker) Visit(b *inventory.Building) error {
	if w.a.Assess(b) != nil {
		w.counts.Rejected.Add(1)
		return nil
	}
	w.counts.Out.Add(1)
	_, lives := w.a.BestBy(ranking.LifeSafety)
	w.key = assess.AppendRankKey(w.key[:0], w.a.Scored(w.a.Choice.Best).Score, lives, w.a.Before.Total, b.ID)
	return w.ids.Add(w.key, []byte(b.ID))
}

// pick reads the register again and returns the buildings with the given ids, in the order of
// their places.
func pick(ctx context.Context, study *assess.Study, places map[string]int) ([]ranked, error) {
	list := make([]ranked, len(places))
	_, err := study.EachBatch(ctx, func(batch *inventory.Batch) error {
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
			return nil, errors.New("the register changed while it was read: a building of the shortlist " +
				"is gone; run it again")
		}
	}
	return list, nil
}
