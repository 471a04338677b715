package confirm

import (
	"context"
	"errors"
	"path/filepath"
	"slices"
	"sync"

	"plinth/pipeline/assess"
	"plinth/pipeline/output"
	"plinth/pipeline/report"
)

// Folder is the folder of a confirmation within the output folder.
const Folder = "confirm"

// Shortlist assesses the register, takes the first buildings through time histories as they
// stand and with their best measures, and ranks them again by the scores that follow. It
// writes confirm.parquet, confirm.csv and confirm.html to Folder. The result does not depend
// on the number of workers. A confirmation that ends early is resumed by the next; the error
// is then an *assess.UnfinishedError if a building is done.
func Shortlist(ctx context.Context, study *assess.Study, s assess.Settings) (*Confirmation, error) {
	set, hash, err := study.OpenFolder(Folder, s, study.Plan().Confirm.RecordFiles...)
	if err != nil {
		return nil, err
	}
	defer set.Abort() // does nothing after Commit
	suites, err := openSuites(study)
	if err != nil {
		return nil, err
	}
	list, counts, err := shortlist(ctx, study, s, set.Working(), study.Plan().Confirm.Shortlist)
	if err != nil {
		return nil, err
	}
	key, err := resumeKey(study, s, hash)
	if err != nil {
		return nil, err
	}
	kept := filepath.Join(study.Plan().Output.Folder, resumeName)
	if err := output.MayReplace(kept, study.Reads(), isResumeFile(kept)); err != nil {
		return nil, err
	}
	k := openResumeFile(kept, key, study.Plan().Output.FileMode())
	k.plan = study.Plan().File()
	checked, err := runAll(ctx, study, s, list, suites, k)
	if err != nil {
		return nil, k.ended(err)
	}
	portraits, err := portraits(ctx, study, s, list, suites)
	if err != nil {
		return nil, k.ended(err)
	}
	c := &Confirmation{rankResults(checked), counts}
	if err := write(study, set, s, hash, c, portraits); err != nil {
		return nil, k.ended(err)
	}
	k.drop()
	return c, nil
}

// runAll takes every building of the list through time histories and returns the results in
// its order. Results that k holds from a run that ended early are not computed again.
func runAll(ctx context.Context, study *assess.Study, s assess.Settings, list []ranked, suites suiteMaker,
	k *resumeFile) ([]result, error) {
	out := make([]result, len(list))
	done := s.Progress.Count("time histories", len(list))
	err := sideBySide(ctx, study, s, suites, len(list), func(w *historyRunner, i int) (err error) {
		defer done()
		id := list[i].building.ID
		var ok bool
		if out[i], ok = k.get(id); ok {
			return nil
		}
		if out[i], err = w.run(&list[i]); err == nil {
			k.put(id, out[i])
		}
		return err
	})
	return out, err
}

// sideBySide does n pieces of work in any order, with one historyRunner for each worker.
func sideBySide(ctx context.Context, study *assess.Study, s assess.Settings, suites suiteMaker, n int,
	do func(w *historyRunner, i int) error) error {
	errs := make([]error, n)
	next := make(chan int)
	var all sync.WaitGroup
	for range min(s.Goroutines(), n) {
		all.Add(1)
		go func() {
			defer all.Done()
			w := historyRunner{study: study, a: study.NewAssessment(), suites: suites}
			for i := range next {
				if errs[i] = ctx.Err(); errs[i] == nil {
					errs[i] = do(&w, i)
				}
			}
		}()
	}
	for i := range n {
		next <- i
	}
	close(next)
	all.Wait()
	return errors.Join(slices.DeleteFunc(errs, func(err error) bool { return err == nil })...)
}

// notes describe the method in page and manifest.
var notes = []string{
	"Time histories of shear-stick models under records that match the spectrum of each site " +
		"(docs/methods/time-history.md).",
	"Agreement of two models, not accuracy against reality. Both have the shaking of the records: their mean " +
		"spectrum and their length, that of the hazard unless the plan says another (suite_duration_s). " +
		"Damping is worth more in artificial records than in recorded ones as long (suite_b20_ratio).",
	"Scores with time histories multiply the spectral drifts, accelerations and displacements of every " +
		"return period by the ratio found at the design return period.",
}

// write writes rows and page and puts them in place.
func write(study *assess.Study, set *output.Set, s assess.Settings, hash string, c *Confirmation,
	portraits []*report.Portrait) error {
	about := study.About(s.Version)
	if err := output.WriteTable(set, &output.Confirmeds, about, c.Rows, output.FormatParquet,
		output.FormatCSV); err != nil {
		return err
	}
	if err := writePage(study, set, report.ConfirmInput{
		Title: study.Plan().Name, About: about, Design: study.Plan().Hazard.Design, PlanSHA256: hash,
		Notes: notes, Rows: c.Rows, Portraits: portraits,
	}); err != nil {
		return err
	}
	m := &output.Manifest{
		About: about, PlanSHA256: hash, Plan: study.Plan().Effective(),
		Counts: c.Counts,
		Seeds:  []output.Seed{{Name: "records", Value: uint64(study.Plan().Confirm.Seed)}},
		Notes:  notes,
	}
	var err error
	if m.Inputs, err = study.Inputs(study.Plan().Confirm.RecordFiles...); err != nil {
		return err
	}
	return set.Commit(m)
}
