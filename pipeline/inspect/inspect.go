package inspect

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"sync"

	"plinth/pipeline/assess"
	"plinth/pipeline/budget"
	"plinth/pipeline/output"
)

// A Search lists the unknown fields that are worth finding out.
type Search struct {
	Rows   []output.Inspection
	Fields []FieldWorth // over the stock, the most worth first
	Visits []Visit
	Unit   string
	Price  float64  // gain of one unit of money at the budget line; 0 without a budget
	Failed []string // buildings on which the program failed away from what is assumed
	About  output.About
	Counts output.Counts
}

// A FieldWorth is the worth of knowing one field in all buildings.
type FieldWorth struct {
	Field     string
	Buildings int
	Worth     float64
	// Expected number of buildings whose best measure, or place across the budget line, changes.
	Best, Funded float64
}

// Find computes the worth of knowing each unknown field of each building and writes it to the
// folder inspect within the plan's output folder.
//
// The worth of a field is the expected gain of choosing a measure after the field is known,
// less that of choosing before:
//
//	worth = sum over values f of p_f max_m g_mf - max_m sum over f of p_f g_mf
//
// p_f is the probability of a value and g_mf the score of measure m less that of doing nothing
// and less its cost times the price of money. That price is the gain of one unit of money at
// the budget line, 0 without a budget. Fields are taken one at a time (Raiffa and Schlaifer
// 1961, expected value of perfect information).
func Find(ctx context.Context, study *assess.Study, s assess.Settings) (*Search, error) {
	out := &Search{Unit: study.Objective().Unit, About: study.About(s.Version)}
	money := budget.Money(study) != nil
	set, hash, err := study.OpenFolder("inspect", s)
	if err != nil {
		return nil, err
	}
	defer set.Abort() // does nothing after Commit
	if out.Price, out.Counts, err = budget.LinePrice(ctx, study, s); err != nil {
		return nil, err
	}
	reader, err := study.Register(ctx)
	if err != nil {
		return nil, err
	}
	defer reader.Close()
	var lock sync.Mutex
	var failed assess.FailedBuildings
	visit := func() assess.Visitor {
		return &worthFinder{study: study, base: study.NewAssessment(), then: study.NewAssessment(),
			price: out.Price, budget: money, out: out, failed: &failed, lock: &lock}
	}
	if err := study.Flow(ctx, reader, s.Goroutines(), visit,
		s.Progress.Watch("unknown fields of buildings")); err != nil {
		return nil, err
	}
	failed.Sort()
	out.Failed = failed.IDs
	out.arrange()
	return out, write(study, set, hash, out)
}

// arrange puts the rows in order, adds up fields and groups visits.
func (s *Search) arrange() {
	slices.SortFunc(s.Rows, func(x, y output.Inspection) int {
		return cmp.Or(cmp.Compare(y.Worth, x.Worth), cmp.Compare(y.BestChanges, x.BestChanges),
			cmp.Compare(x.ID, y.ID), cmp.Compare(x.Field, y.Field))
	})
	at := map[string]int{}
	for i := range s.Rows {
		row := &s.Rows[i]
		row.Place = int64(i + 1)
		k, ok := at[row.Field]
		if !ok {
			k = len(s.Fields)
			at[row.Field] = k
			s.Fields = append(s.Fields, FieldWorth{Field: row.Field})
		}
		f := &s.Fields[k]
		f.Buildings++
		f.Worth += row.Worth
		f.Best += row.BestChanges
		if !math.IsNaN(row.FundedChanges) {
			f.Funded += row.FundedChanges
		}
	}
	slices.SortFunc(s.Fields, func(x, y FieldWorth) int {
		return cmp.Or(cmp.Compare(y.Worth, x.Worth), cmp.Compare(x.Field, y.Field))
	})
	s.visits()
}

// failedNote names the buildings on which the program failed.
func (s *Search) failedNote() []string {
	return assess.FailedNote(s.Failed, "nothing is said here")
}

// write writes inspect.csv and a manifest.
func write(study *assess.Study, set *output.Set, hash string, s *Search) error {
	err := output.WriteTable(set, &output.Inspections, s.About, s.Rows, output.FormatCSV)
	if err != nil {
		return err
	}
	m := &output.Manifest{About: s.About, Counts: s.Counts, PlanSHA256: hash, Plan: study.Plan().Effective(),
		Notes: []string{
			"Worth of knowing one field at a time, over what may be found there " +
				"(docs/methods/ranking.md); the probabilities are judgement.",
			fmt.Sprintf("One unit of money is priced at a gain of %.6g, that of the budget line.", s.Price),
		}}
	m.Notes = append(m.Notes, s.failedNote()...)
	if m.Inputs, err = study.Inputs(); err != nil {
		return err
	}
	return set.Commit(m)
}
