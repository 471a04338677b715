package output

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// sameRun returns a *FolderError that says what differs, if dir holds the run of m and that is not
// the run which c would write again, or if its files have changed since they were written.
func (c *Claim) sameRun(dir string, m *Manifest) error {
	differ := func(format string, args ...any) error {
		return &FolderError{
			Dir: dir, Problem: fmt.Sprintf(format, args...),
			Remedy: "choose another folder to keep both; --force replaces the files of the earlier run there for good",
		}
	}
	if m.PlanSHA256 != c.Plan {
		return differ("holds a run of another plan (sha256 %.12s, this one %.12s)", m.PlanSHA256, c.Plan)
	}
	if m.Version != c.Version {
		return differ("holds a run of another version of the program (%s, this is %s)", m.Version, c.Version)
	}
	if c.Inputs != nil {
		inputs, err := c.Inputs()
		if err != nil {
			return err
		}
		if !slices.Equal(inputs, m.Inputs) {
			return differ("holds a run of other inputs (%s)", Differing(m.Inputs, inputs))
		}
	}
	edited, err := m.edited(dir)
	if err != nil {
		return err
	}
	if len(edited) > 0 {
		return differ("holds results that were changed since they were written (%s)", strings.Join(edited, ", "))
	}
	return nil
}

// edited returns the files of m in dir that differ from what m says of them. A file that is missing
// is not among them, since nothing of it can be lost.
func (m *Manifest) edited(dir string) ([]string, error) {
	var list []string
	for _, f := range m.Files {
		if !slices.Contains(m.names(), f.Name) {
			continue
		}
		is, err := HashInput(filepath.Join(dir, f.Name), f.Name)
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			return nil, fmt.Errorf("output folder %s: %w", dir, err)
		case is.SHA256 != f.SHA256:
			list = append(list, f.Name)
		}
	}
	return list, nil
}

// Differing returns the name of the first input that differs between two lists.
func Differing(was, is []Input) string {
	for i := range min(len(was), len(is)) {
		if w, n := &was[i], &is[i]; *w != *n {
			return fmt.Sprintf("%s is not the file it began with (%d bytes, sha256 %.12s; now %s, %d bytes, %.12s)",
				w.Name, w.Bytes, w.SHA256, n.Name, n.Bytes, n.SHA256)
		}
	}
	return fmt.Sprintf("it read %d files, now there are %d", len(was), len(is))
}

// A Stale is a folder within the folder of a run, with results of another plan or of other inputs.
type Stale struct{ Folder, Problem string }

// FindStale returns the folders in dir (programme, confirmation and the like) that do not belong to
// the run in dir, and the number of folders it looked at. There are none if dir holds no run.
func FindStale(dir string) (stale []Stale, looked int, err error) {
	m, err := ReadManifest(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, 0, nil
	}
	if err != nil {
		return nil, 0, err
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, 0, err
	}
	for _, e := range entries {
		if !e.IsDir() || e.Name() == WorkingName {
			continue
		}
		part, err := ReadManifest(filepath.Join(dir, e.Name()))
		if errors.Is(err, fs.ErrNotExist) || errors.Is(err, errForeign) {
			continue // not results of a run
		}
		if err != nil {
			return nil, 0, err
		}
		looked++
		if why := m.apart(part); why != "" {
			stale = append(stale, Stale{e.Name(), why})
		}
	}
	return stale, looked, nil
}

// apart says in what part differs from the run of m, and returns "" if part belongs to it. A part
// may have read more files than the run.
func (m *Manifest) apart(part *Manifest) string {
	if m.PlanSHA256 != part.PlanSHA256 {
		return fmt.Sprintf("of another plan (sha256 %.12s, the run's %.12s)", part.PlanSHA256, m.PlanSHA256)
	}
	for _, in := range m.Inputs {
		if !slices.Contains(part.Inputs, in) {
			return fmt.Sprintf("of another %s than the run (whose sha256 is %.12s)", in.Name, in.SHA256)
		}
	}
	return ""
}
