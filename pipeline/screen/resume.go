package screen

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"runtime"
	"slices"

	"plinth/pipeline/assess"
	"plinth/pipeline/extsort"
	"plinth/pipeline/output"
)

// checkpointRows is the default distance of checkpoints: some minutes of work. Stocks that fit
// into memory whole have fewer rows, and so no checkpoint.
const checkpointRows = 100_000

// parcelRows is the number of rows of a parcel; parcels are smaller if checkpoints are closer.
const parcelRows = 1024

// A checkpointer keeps the checkpoints of a screening in the working folder of its Set.
type checkpointer struct {
	study *assess.Study
	set   *output.Set
	every int64      // rows between checkpoints, 0 for none
	state checkpoint // the last one, or how the first will begin
}

// A ResumeError says why a run cannot be resumed.
type ResumeError struct {
	Dir, Problem string
	Err          error // the cause, may be nil
}

func (e *ResumeError) Error() string {
	return fmt.Sprintf("the unfinished run in %s cannot be gone on with: %s; begin anew with --force", e.Dir,
		e.Problem)
}

// Unwrap returns the cause.
func (e *ResumeError) Unwrap() error { return e.Err }

// begin locks the output folder. If the run is to be resumed it loads the checkpoint, if there
// is one.
func begin(study *assess.Study, s assess.Settings, plan string) (*checkpointer, error) {
	k := &checkpointer{study: study, every: max(0, s.Checkpoint)}
	if s.Checkpoint == 0 {
		k.every = checkpointRows
	}
	k.state = checkpoint{
		Program: fmt.Sprintf("%s, %s, %s", s.Version, runtime.Version(), runtime.GOARCH),
		Plan:    plan, Replace: s.Replace, ParcelRows: parcelRows,
	}
	if k.every > 0 {
		k.state.ParcelRows = int(min(parcelRows, k.every))
	}
	if !s.Resume {
		var err error
		k.set, err = study.OpenSet("", s, screenClaim(study, plan, s))
		return k, err
	}
	if err := study.MayHold(s); err != nil {
		return nil, err
	}
	var err error
	if k.set, err = output.LockSet(study.Plan().Output.Folder, screenClaim(study, plan, s)); err != nil {
		return nil, err
	}
	if err = k.load(); err == nil {
		s.Replace = k.state.Replace
		err = k.set.Admit(screenClaim(study, plan, s))
	}
	if err != nil {
		return nil, errors.Join(err, k.set.Abort())
	}
	return k, nil
}

func (k *checkpointer) path() string { return filepath.Join(k.set.Working(), output.CheckpointName) }

// load reads the checkpoint, if there is one, and refuses that of another run.
func (k *checkpointer) load() error {
	c, err := readCheckpoint(k.path())
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if errors.Is(err, errCheckpoint) {
		return k.refuse(err.Error(), err)
	}
	if err != nil {
		return err
	}
	now := &k.state
	if c.Program != now.Program {
		return k.refuse(fmt.Sprintf("it was begun by another program (%s; this is %s)", c.Program,
			now.Program), nil)
	}
	if c.Plan != now.Plan {
		return k.refuse(fmt.Sprintf("the plan is not the one it began with (sha256 %.12s, now %.12s)", c.Plan,
			now.Plan), nil)
	}
	if now.Inputs, err = k.study.Inputs(); err != nil {
		return err
	}
	if !slices.Equal(c.Inputs, now.Inputs) {
		return k.refuse(output.Differing(c.Inputs, now.Inputs), nil)
	}
	k.state = *c
	return nil
}

func (k *checkpointer) refuse(problem string, err error) error {
	return &ResumeError{Dir: k.study.Plan().Output.Folder, Problem: problem, Err: err}
}

// restore gives a new sink the rows of the checkpoint, and removes other files that an earlier
// process left.
func (k *checkpointer) restore(out *sink) error {
	c := &k.state
	if c.Parcels == 0 {
		return nil
	}
	sorters, kept := out.sorters(), make(map[string]bool)
	if len(sorters) != len(c.Runs) {
		return k.refuse(fmt.Sprintf("%v: %d sorters, want %d", errCheckpoint, len(c.Runs), len(sorters)),
			errCheckpoint)
	}
	for i, s := range sorters {
		if err := s.Restore(c.Runs[i]); err != nil {
			return k.refuse(err.Error(), err)
		}
		for _, r := range c.Runs[i] {
			kept[r.Path] = true
		}
	}
	out.counts.Out.Store(c.Out)
	out.counts.Rejected.Store(c.Rejected)
	return k.set.Tidy(func(path string) bool { return kept[path] })
}

// save makes a checkpoint of the first parcels, all of whose rows are in out.
func (k *checkpointer) save(out *sink, parcels int, rows int64) error {
	err := k.study.Unchanged()
	if err == nil && k.state.Inputs == nil {
		k.state.Inputs, err = k.study.Inputs()
	}
	if err != nil {
		return err
	}
	c := k.state
	c.Parcels, c.Rows, c.Out, c.Rejected = parcels, rows, out.counts.Out.Load(), out.counts.Rejected.Load()
	sorters := out.sorters()
	c.Runs = make([][]extsort.Run, len(sorters))
	err = together(context.Background(), len(sorters), func(_ context.Context, i int) (err error) {
		c.Runs[i], err = sorters[i].Save()
		return err
	})
	if err == nil {
		err = c.check()
	}
	if err == nil {
		err = c.write(k.path())
	}
	if err == nil {
		k.state = c
	}
	return err
}

// ended returns err, as an *UnfinishedError if the run can be resumed.
func (k *checkpointer) ended(err error) error {
	var refused *ResumeError
	if err == nil || k.state.Parcels == 0 || errors.As(err, &refused) {
		return err
	}
	return assess.Unfinished(k.state.Rows, "rows", "screen --resume", k.study.Plan().File(), err)
}
