package output

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// A KeepError names a file or a folder that must not be written over or removed. No flag overrides
// it.
type KeepError struct{ Path, Problem, Remedy string }

func (e *KeepError) Error() string { return fmt.Sprintf("%s %s; %s", e.Path, e.Problem, e.Remedy) }

// MayReplace is the one rule of what may be written over or removed. It returns an error for a path
// that leads to a file of reads, the files that the run reads, by whatever name or link. It returns
// an error for any other file that is not ours. A path at which nothing stands may be written,
// unless it is one of reads.
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

// same reports whether two paths lead to one file, or would if the file existed.
func same(a, b string) bool {
	x, errX := os.Stat(a)
	y, errY := os.Stat(b)
	if errX == nil && errY == nil {
		return os.SameFile(x, y)
	}
	return resolved(a) == resolved(b)
}

// resolved returns path with its links followed, as far as the path exists.
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

// Crowded returns a *FolderError if dir is a folder that holds more than a run: the root, the home
// folder of the user, or the folder of the plan. The owner must allow results among other files.
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
