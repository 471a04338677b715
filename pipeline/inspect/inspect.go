package inspect

import (
	"context"
	"errors"
	"fmt"

	"plinth/pipeline/assess"
	"plinth/pipeline/assessed"
	"plinth/pipeline/budget"
	"plinth/pipeline/extsort"
	"plinth/pipeline/output"
)

// A Search finds the unknown fields that are worth finding out. Their rows stand in the file; it
// holds those that the text shows.
type Search struct {
	Found  int64               // unknown fields of buildings, rows of the file
	First  []output.Inspection // the first rows
	Fields []FieldWorth        // over the stock, the most worth first
	Visits []Visit             // the first visits
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

// Find computes the worth of knowing each unknown field of each building that the last screening
// has left, and writes it to the folder inspect within the plan's output folder. The error is an
// *assessed.NotCurrentError if there is no such screening of the plan and its inputs.
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
	all, err := assessed.Open(study, s.Version)
	if err != nil {
		return nil, err
	}
	set, hash, err := study.OpenFolder("inspect", s)
	if err != nil {
		return nil, err
	}
	defer set.Abort() // does nothing after Commit
	out.Counts = all.Counts
	if out.Price, err = budget.LinePrice(ctx, study, all); err != nil {
		return nil, err
	}
	found := newFindings(extsort.Options{Memory: s.Memory, Folder: set.Working()})
	defer found.rows.Close()
	done := s.Progress.Count("unknown fields of buildings", int(all.Counts.Out))
	visitor := func() assessed.Visitor {
		w := &worthFinder{study: study, then: study.NewAssessment(), price: out.Price, budget: money, to: found}
		return func(d *assess.Digest) error {
			defer done()
			return w.visit(d)
		}
	}
	if err := all.Share(ctx, s.Goroutines(), visitor); err != nil {
		return nil, err
	}
	found.failed.Sort()
	out.Failed = found.failed.IDs
	found.visits(out)
	return out, write(ctx, study, set, hash, out, found)
}

// failedNote names the buildings on which the program failed.
func (s *Search) failedNote() []string {
	return assess.FailedNote(s.Failed, "nothing is said here")
}

// write writes inspect.csv and a manifest.
func write(ctx context.Context, study *assess.Study, set *output.Set, hash string, s *Search,
	found *findings) error {
	sheet, err := output.NewSheet(set, &output.Inspections, s.About, output.FormatCSV)
	if err != nil {
		return err
	}
	if err := errors.Join(found.each(ctx, s, sheet.Write), sheet.Close()); err != nil {
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
