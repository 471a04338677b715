package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/apache/beam/sdks/v2/go/pkg/beam/core"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/runners"

	"plinth/pipeline/plan"
)

// A job holds the settings of a run besides its plan. Workers get it with their functions, so every
// path in it must lead to the same file on all machines.
type job struct {
	Plan      string
	Registers []string
	Folder    string
	Ranges    int
	Rows      int
	Memory    int64
	Version   string
	Engine    string   // what carries the rows, in words
	Skipped   []string // formats of the plan that cannot be written range by range
}

// carriedBy says what carries the rows, for the manifest. A job service does not tell which engine is
// behind it, so that the user may.
func carriedBy(runner, engine string) string {
	s := "Spread over machines by the Apache Beam Go SDK " + core.SdkVersion + ", runner " + cmp.Or(runner, "prism")
	if engine != "" {
		s += ", on " + engine
	}
	return s + "."
}

// newJob reads the plan at path and finds the registers that a glob names. Without a glob it takes
// the register of the plan.
func newJob(path, glob string) (*job, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	p, err := plan.Load(path)
	if err != nil {
		return nil, err
	}
	j := &job{Plan: path, Registers: []string{p.Inventory.Path}, Engine: carriedBy(*runners.Runner, *engine)}
	if glob != "" {
		if j.Registers, err = filepath.Glob(glob); err != nil || len(j.Registers) == 0 {
			return nil, fmt.Errorf("--registers %q finds no file", glob)
		}
		slices.Sort(j.Registers)
	}
	for i := range j.Registers {
		if j.Registers[i], err = filepath.Abs(j.Registers[i]); err != nil {
			return nil, err
		}
	}
	if j.Folder, err = filepath.Abs(p.Output.Folder); err != nil {
		return nil, err
	}
	if p.Uncertainty.Draws > 0 {
		return nil, errors.New("uncertainty.draws must be 0 here: rank intervals hold all sampled buildings against each other in one memory. Run this first, then plinth screen with draws over the shortlist")
	}
	if p.Inventory.Impute == "stock" {
		return nil, errors.New(`inventory.impute = "stock" is not for a run over machines: gaps are filled from the whole register. Write impute = "defaults"`)
	}
	written := formats(p)
	if len(written) == 0 {
		return nil, errors.New(`output.formats names neither "parquet" nor "csv", and no other is written here: add one`)
	}
	for _, f := range p.Output.Formats {
		if !slices.Contains(written, f) {
			j.Skipped = append(j.Skipped, f)
		}
	}
	return j, nil
}

// notice returns a sentence on the formats of the plan that this run does not write, "" for none.
func (j *job) notice() string {
	if len(j.Skipped) == 0 {
		return ""
	}
	return "warning: not written here: " + strings.Join(j.Skipped, ", ") + " of output.formats. Only parquet and csv can be cut into ranges; for the others run plinth screen over the shortlist"
}

// check refuses settings and registers that workers could only fail on: an error of theirs comes back in
// the words of the runner.
func (j *job) check(ctx context.Context) error {
	if j.Ranges < 1 || j.Rows < 1 || j.Memory < 1<<20 {
		return errors.New("--ranges, --rows and --memory must be 1 or more")
	}
	run, err := openRun(j.Plan)
	if err != nil {
		return err
	}
	for _, path := range j.Registers {
		r, err := run.OpenRegister(ctx, path, j.Rows)
		if err != nil {
			return err
		}
		r.Close()
	}
	return nil
}
