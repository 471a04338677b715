package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"

	"plinth/pipeline/assess"
	"plinth/pipeline/output"
)

// pieceName matches the names of this program's range files, whole or half written, and no other
// names. halfName matches those of its files that are half written.
var (
	pieceName = regexp.MustCompile(fmt.Sprintf(`^(%s|%s|%s|%s)-\d{5}-of-\d{5}\.(parquet|csv)(\.tmp-\d+)?$`,
		output.Buildings.Name, output.Candidates.Name, output.Verdicts.Name, output.Rejects.Name))
	halfName = regexp.MustCompile(fmt.Sprintf(`^(%s|%s|%s|%s|%s)(-\d{5}-of-\d{5})?\.(parquet|csv)\.tmp-\d+$`,
		output.Buildings.Name, output.Candidates.Name, output.Verdicts.Name, output.Rejects.Name, output.Rules.Name))
)

// sweep removes what killed workers left half written in a folder whose ranges are all whole. A worker
// that still writes one of them a second time fails, and nothing waits for it.
func sweep(folder string) error {
	entries, err := os.ReadDir(folder)
	for _, e := range entries {
		if halfName.MatchString(e.Name()) {
			err = errors.Join(err, os.Remove(filepath.Join(folder, e.Name())))
		}
	}
	return err
}

// prepare makes the output folder ready. It refuses a folder that is not empty unless it may be
// written over. It then removes only the files of a run.
func (j *job) prepare(force bool) error {
	run, err := openRun(j.Plan)
	if err != nil {
		return err
	}
	folders := fs.FileMode(0o777)
	if run.Plan().Output.Private {
		folders = 0o700
		if err := output.CheckPrivate(j.Folder); err != nil {
			return err
		}
	}
	entries, err := os.ReadDir(j.Folder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if len(entries) > 0 && !force {
		return &output.FolderError{Dir: j.Folder, Problem: "is not empty", Remedy: "choose another folder; --force replaces the files of an earlier run there for good, and no others"}
	}
	remove, err := j.old(run, entries)
	if err != nil {
		return err
	}
	for _, path := range remove {
		if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return os.MkdirAll(j.Folder, folders)
}

// old returns the files of an earlier run among the entries of the folder. All of them may be
// removed. It is an error if this run reads one of them, or if some other file stands where this
// run will write.
func (j *job) old(run *assess.Study, entries []os.DirEntry) ([]string, error) {
	rules := output.Rules.Name + "." + output.FormatCSV
	var ours []string
	m, err := output.ReadManifest(j.Folder)
	switch {
	case err == nil:
		for _, f := range m.Files {
			ours = append(ours, f.Name)
		}
		ours = append(ours, output.ManifestName)
	case !errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("output folder %s: %w; choose another folder, or move that file away", j.Folder, err)
	}
	for _, e := range entries {
		if pieceName.MatchString(e.Name()) {
			ours = append(ours, e.Name(), rules) // the table of rules is the last before the manifest
		}
	}
	var remove []string
	reads := append(run.Reads(), j.Registers...)
	for _, e := range entries {
		name, path := e.Name(), filepath.Join(j.Folder, e.Name())
		mine := slices.Contains(ours, name)
		if !mine && name != rules {
			continue
		}
		if err := output.MayReplace(path, reads, mine); err != nil {
			return nil, err
		}
		remove = append(remove, path)
	}
	return remove, nil
}
