package pipeline

import (
	"errors"
	"os"
	"path/filepath"
	"plinth/pipeline/output"
	"slices"
)

// Reads returns the paths of every file the run reads: the plan, the register, and all
// that the plan names.
func (r *Run) Reads() []string {
	p := r.plan
	paths := append([]string{p.Inventory.Path}, r.files()...)
	paths = append(paths, p.Confirm.RecordFiles...)
	for _, path := range []string{p.File(), p.Budget.Terms} {
		if path != "" {
			paths = append(paths, path)
		}
	}
	if p.Consequence.Tables != "" {
		entries, _ := os.ReadDir(p.Consequence.Tables) // a folder without tables has been refused
		for _, e := range entries {
			paths = append(paths, filepath.Join(p.Consequence.Tables, e.Name()))
		}
	}
	return paths
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
