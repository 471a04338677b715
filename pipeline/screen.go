package pipeline

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"runtime"
	"slices"

	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
	"plinth/pipeline/plan"
	"plinth/pipeline/ranking"
	"plinth/pipeline/report"
)

// Settings are what a run takes from the command line and not from its plan:
// nothing in them can change a byte of the results.
type Settings struct {
	Version    string   // of the program, for the manifest
	Workers    int      // 0 for one a processor
	Memory     int64    // bytes of the sorters, 0 for their default
	Replace    bool     // write over another run in the output folder
	Here       bool     // the output folder may be that of the plan, the home folder or the root
	Resume     bool     // go on with a screening that was ended early, if there is one
	Checkpoint int64    // rows of a screening between two checkpoints, 0 for 100,000, below 0 for none
	Progress   Progress // may be nil
}

// workers returns how many goroutines assess.
func (s *Settings) workers() int {
	if s.Workers > 0 {
		return s.Workers
	}
	return runtime.GOMAXPROCS(0)
}

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
	out := newSink(r, ranking.SorterOptions{Memory: s.Memory, Folder: k.set.Working(), Last: k.every > 0})
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
	counts, err := out.counts.of(cleaned)
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
	if slices.Contains(r.plan.Output.Formats, plan.FormatReport) {
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
		Quality: report.Register(register), Hazard: report.Coverage(r.field.Coverage()), Notes: r.notes(counts.Out), Stock: stock,
	})
	return errors.Join(err, f.Close())
}

// Manifest returns the manifest of a run that has read the given registers.
func (r *Run) Manifest(about output.About, counts output.Counts, registers []output.Input) (*output.Manifest, error) {
	hash, err := output.HashPlan(r.plan.Effective())
	if err != nil {
		return nil, err
	}
	m := &output.Manifest{About: about, Counts: counts, Notes: r.notes(counts.Out), Inputs: registers, PlanSHA256: hash, Plan: r.plan.Effective()}
	if u := &r.plan.Uncertainty; u.Draws > 0 {
		m.Seeds = append(m.Seeds, output.Seed{Name: "uncertainty", Value: uint64(u.Seed)})
	}
	others, err := hashed(r.files()...)
	m.Inputs = append(m.Inputs, others...)
	return m, err
}

// inputs returns the files the run read, with their hashes, and more that a command
// reads beside them.
func (r *Run) inputs(more ...string) ([]output.Input, error) {
	list, err := hashed(slices.Concat([]string{r.plan.Inventory.Path}, r.files(), more)...)
	return list, errors.Join(err, r.unchanged())
}

// files returns the files the run reads besides the register.
func (r *Run) files() []string {
	paths := append(hazardFiles(&r.plan.Hazard), r.lossTables...)
	for _, path := range []string{r.plan.Archetypes.Systems, r.plan.Archetypes.Eras} {
		if path != "" {
			paths = append(paths, path)
		}
	}
	return paths
}

// hashed returns files with their hashes.
func hashed(paths ...string) ([]output.Input, error) {
	var list []output.Input
	for _, path := range paths {
		in, err := output.HashInput(path, filepath.Base(path))
		if err != nil {
			return nil, err
		}
		list = append(list, in)
	}
	return list, nil
}

// notes says in the manifest how the numbers came about.
func (r *Run) notes(buildings int64) []string {
	h := &r.plan.Hazard
	notes := []string{
		fmt.Sprintf("Demand columns hold for a return period of %g years.", h.Design),
		"Spectra are interpolated in ln(Sa) over ln(T), ln(annual frequency) and place; what had to be extrapolated is said in hazard_status.",
		"Period and strength come from tables by system, height, era and region (docs/methods/archetypes.md); given values override them.",
		"Demand is spectral (docs/methods/demand.md): medians over records of a shear-stick model. Solver statuses stand in solver_status.",
		"Costs, loss tables and feasibility limits without a source are labelled judgement where they are defined.",
	}
	notes = append(notes, fmt.Sprintf("Annual values are integrals over annual frequency, loss a straight line in its logarithm between return periods; "+
		"below %g years loss falls to nothing at the onset (constants.csv), beyond %g years it is held: the true loss is not less (frequent_share, rare_share).",
		h.ReturnPeriods[0], h.ReturnPeriods[len(h.ReturnPeriods)-1]))
	c := &r.plan.Consequence
	notes = append(notes, fmt.Sprintf("annual_loss_low and annual_loss_high are %g and %g times annual_loss: the plan's band of values and loss tables, of every building alike.", c.ValueLow, c.ValueHigh))
	notes = append(notes, r.ratingNotes()...)
	return append(notes, r.drawNotes(buildings)...)
}
