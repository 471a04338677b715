package pipeline

import (
	"context"
	"errors"
	"slices"

	"plinth/pipeline/extsort"
	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
	"plinth/pipeline/report"
)

// A Result is what a screening says when it is done.
type Result struct {
	Summary output.Summary
	Report  *inventory.Report
	Resumed int64 // rows an earlier process had done
}

// Screen takes the whole register through the run and writes the files of the
// plan's output folder, all of them or none. A large screening that is ended early,
// be it by a signal that cannot be caught, leaves a checkpoint that another goes on
// from; the error then is an *UnfinishedError where there could be one.
func (r *Run) Screen(ctx context.Context, s Settings) (*Result, error) {
	hash, err := output.HashPlan(r.plan.Effective())
	if err != nil {
		return nil, err
	}
	k, err := r.begin(s, hash)
	if err != nil {
		return nil, err
	}
	defer k.set.Abort() // does nothing after Commit
	res, err := r.screen(ctx, s, k, hash)
	return res, k.ended(err)
}

func (r *Run) screen(ctx context.Context, s Settings, k *keeper, hash string) (*Result, error) {
	out := newSink(r, extsort.Options{Memory: s.Memory, Folder: k.set.Working(), Last: k.every > 0})
	defer out.Close()
	if err := k.restore(out); err != nil {
		return nil, err
	}
	resumed := k.state.Rows
	report, err := r.assess(ctx, s, k, out)
	if err != nil {
		return nil, err
	}
	res, err := r.finish(ctx, s, k.set, out, report, hash)
	if err != nil {
		return nil, err
	}
	res.Resumed = resumed
	return res, nil
}

// assess takes the register into out, from the last checkpoint on.
func (r *Run) assess(ctx context.Context, s Settings, k *keeper, out *sink) (*inventory.Report, error) {
	reader, err := r.OpenRegister(ctx, r.plan.Inventory.Path, k.state.ParcelRows)
	if err != nil {
		return nil, err
	}
	w := s.Progress.watch("buildings")
	w.skip, w.every = k.state.Parcels, k.every
	w.halt = func(parcels int, rows int64) error { return k.save(out, parcels, rows) }
	err = r.flow(ctx, reader, s.workers(), out.writer, w)
	return reader.Report(), errors.Join(err, reader.Close())
}

// finish checks that no row was lost, writes the files and puts them in place.
func (r *Run) finish(ctx context.Context, s Settings, set *output.Set, out *sink, cleaned *inventory.Report, hash string) (*Result, error) {
	counts, err := out.counts.Of(cleaned)
	if err != nil {
		return nil, err
	}
	about := r.About(s.Version)
	res := &Result{Report: cleaned, Summary: output.Summary{Counts: counts, RankBy: r.plan.Objective.RankBy, About: about}}
	var stock report.Stock
	done, err := out.write(ctx, set, about, r.plan.Output.Formats, s.workers(), &stock)
	if err != nil {
		return nil, err
	}
	res.Summary.First, res.Summary.Checks = done.first, done.checks
	res.Summary.Now, res.Summary.NowFirst = done.now, done.nowFirst
	if slices.Contains(r.plan.Output.Formats, formatHTML) {
		if err := r.page(set, about, counts, cleaned, hash, &stock); err != nil {
			return nil, err
		}
	}
	register, err := hashed(r.plan.Inventory.Path)
	if err != nil {
		return nil, err
	}
	m, err := r.Manifest(about, counts, register)
	if err != nil {
		return nil, err
	}
	m.Checks = done.checks
	if done.sure != nil {
		m.Notes = append(m.Notes, failedNote(done.sure.failed.ids, "there is no interval of ranks")...)
	}
	if err := errors.Join(r.unchanged(), out.Close()); err != nil {
		return nil, err
	}
	return res, set.Commit(m)
}

// page writes the report.
func (r *Run) page(set *output.Set, about output.About, counts output.Counts, register *inventory.Report, hash string, stock *report.Stock) error {
	f, err := set.Create(report.Name)
	if err != nil {
		return err
	}
	err = report.Write(f, report.Input{
		Title: r.plan.Name, Objective: r.objective, About: about, Counts: counts, Design: r.plan.Hazard.Design,
		LifeYears: r.plan.Consequence.LifeYears, DiscountRate: r.plan.Consequence.DiscountRate, PlanSHA256: hash,
		Quality: report.Register(register), Hazard: report.Coverage(r.Coverage()), Notes: r.notes(counts.Out), Stock: stock,
	})
	return errors.Join(err, f.Close())
}
