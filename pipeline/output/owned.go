package output

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// A KeepError says that a file or a folder is not one to write over or remove. No
// flag makes it one.
type KeepError struct{ Path, Problem, Remedy string }

func (e *KeepError) Error() string { return fmt.Sprintf("%s %s; %s", e.Path, e.Problem, e.Remedy) }

// MayReplace is the one rule of what may be written over or removed at path: never a
// file of reads, those that the run reads, by whatever name or link, and otherwise
// nothing but a file of ours. A path with nothing at it may be written, unless it is
// one of reads.
func MayReplace(path string, reads []string, ours bool) error {
	for _, read := range reads {
		if same(path, read) {
			return &KeepError{path, "is a file that this run reads",
				"write the results elsewhere, or copy that file out of the way and name the copy in the plan"}
		}
	}
	info, err := os.Lstat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case info.IsDir():
		return &KeepError{path, "is a folder", "give the path of a file"}
	case !ours:
		return &KeepError{path, "is not a file of a finished run and is left as it is",
			"choose another name or folder, or move that file away"}
	}
	return nil
}

// same reports whether two paths lead to one file, or would once they are there.
func same(a, b string) bool {
	x, errX := os.Stat(a)
	y, errY := os.Stat(b)
	if errX == nil && errY == nil {
		return os.SameFile(x, y)
	}
	return resolved(a) == resolved(b)
}

// resolved returns path without links, as far as it exists.
func resolved(path string) string {
	path, err := filepath.Abs(path)
	if err != nil {
		return path
	}
	if real, err := filepath.EvalSymlinks(path); err == nil {
		return real
	}
	parent := filepath.Dir(path)
	if parent == path {
		return path
	}
	return filepath.Join(resolved(parent), filepath.Base(path))
}

// Crowded returns a *FolderError if dir is a folder that holds more than a run: the
// root, the home of the user, or that of the plan. Results among an owner's files
// need the owner's word.
func Crowded(dir, planFile string) error {
	home, _ := os.UserHomeDir()
	abs, err := filepath.Abs(dir)
	if err != nil {
		return err
	}
	for _, c := range []struct{ path, what string }{
		{filepath.VolumeName(abs) + string(filepath.Separator), "the root of the disk"},
		{home, "your home folder"},
		{filepath.Dir(planFile), "the folder of the plan"},
	} {
		if c.path != "" && same(abs, c.path) {
			return &FolderError{Dir: dir, Problem: "is " + c.what,
				Remedy: "choose a folder for the results alone (folder under [output]), or pass --here to write them " +
					"among your files"}
		}
	}
	return nil
}
