package assess

import (
	"errors"
	"os"
	"path/filepath"
	"slices"

	"plinth/pipeline/output"
)

// Reads returns the paths of all files of the study: the plan, the register and the files
// that the plan names.
func (study *Study) Reads() []string {
	p := study.plan
	paths := append([]string{p.Inventory.Path}, study.Files()...)
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

// Inputs returns the register and the other files of the study with their hashes, and those
// of more files that a command reads. It is an error if an input has changed.
func (study *Study) Inputs(more ...string) ([]output.Input, error) {
	list, err := HashInputs(slices.Concat([]string{study.plan.Inventory.Path}, study.Files(), more)...)
	return list, errors.Join(err, study.Unchanged())
}

// Files returns the paths of hazard, loss tables and archetype tables.
func (study *Study) Files() []string {
	paths := append(hazardFiles(&study.plan.Hazard), study.lossTables...)
	for _, path := range []string{study.plan.Archetypes.Systems, study.plan.Archetypes.Eras} {
		if path != "" {
			paths = append(paths, path)
		}
	}
	return paths
}

// HashInputs returns files with their hashes.
func HashInputs(paths ...string) ([]output.Input, error) {
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
