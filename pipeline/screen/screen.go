package screen

import (
	"context"
	"errors"
	"slices"

	"plinth/pipeline/assess"
	"plinth/pipeline/assessed"
	"plinth/pipeline/extsort"
	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
	"plinth/pipeline/plan"
	"plinth/pipeline/report"
)

// A Result summarizes a finished screening.
type Result struct {
	Summary output.Summary
	Report  *inventory.Report
	Resumed int64 // rows an earlier process had done
}

// Stock screens the whole register and writes the files of the plan's output folder, all of
// them or none. A large screening that ends early, even by SIGKILL, leaves a checkpoint to
// resume from. If Stock itself returns, the error is then an *assess.UnfinishedError.
func Stock(ctx context.Context, study *assess.Study, s assess.Settings) (*Result, error) {
	hash, err := output.HashPlan(study.Plan().Effective())
	if err != nil {
		return nil, err
	}
	k, err := begin(study, s, hash)
	if err != nil {
		return nil, err
	}
	defer k.set.Abort() // does nothing after Commit
	left, err := assessed.Create(study, s)
	if err != nil {
		return nil, err
	}
	defer left.Abort() // does nothing after Commit
	res, err := screenStock(ctx, study, s, k, left, hash)
	return res, k.ended(err)
}

func screenStock(ctx context.Context, study *assess.Study, s assess.Settings, k *checkpointer,
	left *assessed.Writer, hash string) (*Result, error) {
	out := newSink(study, extsort.Options{Memory: s.Memory, Folder: k.set.Working(), Last: k.every > 0})
	defer out.Close()
	if err := k.restore(out); err != nil {
		return nil, err
	}
	resumed := k.state.Rows
	report, err := assessRegister(ctx, study, s, k, out)
	if err != nil {
		return nil, err
	}
	res, err := finish(ctx, study, s, k.set, left, out, report, hash)
	if err != nil {
		return nil, err
	}
	res.Resumed = resumed
	return res, nil
}

// assessRegister assesses the register from the last checkpoint on; rows go to out.
func assessRegister(ctx context.Context, study *assess.Study, s assess.Settings, k *checkpointer,
	out *sink) (*inventory.Report, error) {
	reader, err := study.OpenRegister(ctx, study.Plan().Inventory.Path, k.state.ParcelRows)
	if err != nil {
		return nil, err
	}
	w := s.Progress.Watch("buildings")
	w.Skip, w.Every = k.state.Parcels, k.every
	w.Halt = func(parcels int, rows int64) error { return k.save(out, parcels, rows) }
	err = study.Flow(ctx, reader, s.Goroutines(), out.writer, w)
	return reader.Report(), errors.Join(err, reader.Close())
}

// finish checks that no row was lost, writes the files and puts them in place.
func finish(ctx context.Context, study *assess.Study, s assess.Settings, set *output.Set,
	left *assessed.Writer, out *sink, cleaned *inventory.Report, hash string) (*Result, error) {
	counts, err := out.counts.Of(cleaned)
	if err != nil {
		return nil, err
	}
	about := study.About(s.Version)
	res := &Result{Report: cleaned, Summary: output.Summary{Counts: counts,
		RankBy: study.Plan().Objective.RankBy, About: about}}
	var stock report.Stock
	done, err := out.write(ctx, set, left, about, study.Plan().Output.Formats, s.Goroutines(), &stock)
	if err != nil {
		return nil, err
	}
	res.Summary.First, res.Summary.Checks = done.first, done.checks
	res.Summary.Now, res.Summary.NowFirst = done.now, done.nowFirst
	if err := writeBook(set, done.book, &res.Summary); err != nil {
		return nil, err
	}
	if slices.Contains(study.Plan().Output.Formats, plan.FormatReport) {
		if err := writePage(study, set, about, counts, cleaned, hash, &stock); err != nil {
			return nil, err
		}
	}
	register, err := assess.HashInputs(study.Plan().Inventory.Path)
	if err != nil {
		return nil, err
	}
	m, err := Manifest(study, about, counts, register)
	if err != nil {
		return nil, err
	}
	m.Checks = done.checks
	if done.uncertainty != nil {
		m.Notes = append(m.Notes, assess.FailedNote(done.uncertainty.failed.IDs,
			"there is no interval of ranks")...)
	}
	if err := errors.Join(study.Unchanged(), out.Close()); err != nil {
		return nil, err
	}
	m2 := *m
	if err := left.Commit(&m2); err != nil {
		return nil, err
	}
	return res, set.Commit(m)
}

// writeBook writes the workbook, if there is one.
func writeBook(set *output.Set, book *output.Workbook, s *output.Summary) error {
	if book == nil {
		return nil
	}
	f, err := set.Create(output.WorkbookName)
	if err != nil {
		return err
	}
	return errors.Join(book.Write(f, s), f.Close())
}

// writePage writes the report.
func writePage(study *assess.Study, set *output.Set, about output.About, counts output.Counts,
	register *inventory.Report, hash string, stock *report.Stock) error {
	f, err := set.Create(report.Name)
	if err != nil {
		return err
	}
	err = report.Write(f, report.Input{
		Title: study.Plan().Name, Objective: study.Objective(), About: about, Counts: counts,
		Design:    study.Plan().Hazard.Design,
		LifeYears: study.Plan().Consequence.LifeYears, DiscountRate: study.Plan().Consequence.DiscountRate,
		PlanSHA256: hash,
		Quality:    report.Register(register), Hazard: report.Coverage(study.Coverage()),
		Notes: notes(study, counts.Out), Stock: stock,
	})
	return errors.Join(err, f.Close())
}
