package output

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
)

// A Set is the files of one run. They are written aside in the folder they will
// stand in, and Commit puts all of them in place with the manifest last: a
// folder with a manifest is a whole run. Abort removes what was written aside.
//
// A Set is not safe for use by several goroutines.
type Set struct {
	dir     string
	replace bool
	old     []string // files of the run that the folder holds
	files   []*File
}

// NewSet returns a Set for folder dir, which it makes if there is none. If the
// folder holds a run of another plan and replace is false, the error is a
// *FolderError, as from CheckFolder.
func NewSet(dir, planSHA256 string, replace bool) (*Set, error) {
	if !replace {
		if err := CheckFolder(dir, planSHA256); err != nil {
			return nil, err
		}
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, fmt.Errorf("output folder: %w", err)
	}
	s := &Set{dir: dir, replace: replace}
	if m, err := ReadManifest(dir); err == nil {
		for _, f := range m.Files {
			if f.Name == filepath.Base(f.Name) && !slices.Contains([]string{".", "..", ManifestName}, f.Name) {
				s.old = append(s.old, f.Name)
			}
		}
	}
	return s, nil
}

// Create starts the file with the given name, which has no folder in it. If
// there is a file of that name that no manifest calls ours, the error is a
// *FolderError unless the Set may replace: it could be the owner's register.
func (s *Set) Create(name string) (*File, error) {
	path := filepath.Join(s.dir, name)
	if _, err := os.Lstat(path); err == nil && !s.replace && name != ManifestName && !slices.Contains(s.old, name) {
		return nil, &FolderError{Dir: s.dir, Problem: "has a file " + name + " that is not of a finished run"}
	}
	tmp := fmt.Sprintf("%s.tmp-%d", path, os.Getpid())
	os.Remove(tmp) // of an earlier process of that number, killed before it could
	f, err := os.OpenFile(tmp, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return nil, fmt.Errorf("output file %s: %w", path, err)
	}
	file := &File{path: path, tmp: tmp, f: f, sum: sha256.New(), Written: Written{Name: name}}
	s.files = append(s.files, file)
	return file, nil
}

// Commit writes the manifest, with the list of files added to it, and puts all
// files in place. Files of an earlier run in the folder that this one did not
// write are removed, so that the folder holds one run. After an error the folder
// has no manifest or the earlier one, never one that does not fit its files.
func (s *Set) Commit(m *Manifest) error {
	if err := s.commit(m); err != nil {
		return errors.Join(err, s.Abort())
	}
	s.files = nil
	return nil
}

func (s *Set) commit(m *Manifest) error {
	m.Files = nil
	for _, f := range s.files {
		if err := f.Close(); err != nil {
			return err
		}
		m.Files = append(m.Files, f.Written)
	}
	slices.SortFunc(m.Files, func(a, b Written) int { return strings.Compare(a.Name, b.Name) })
	manifest, err := s.Create(ManifestName)
	if err != nil {
		return err
	}
	if err := m.write(manifest); err != nil {
		return err
	}
	if err := manifest.Close(); err != nil {
		return err
	}

	if err := os.Remove(manifest.path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("output folder: %w", err)
	}
	for _, name := range s.old {
		if !slices.ContainsFunc(s.files, func(f *File) bool { return f.Name == name }) {
			if err := os.Remove(filepath.Join(s.dir, name)); err != nil && !errors.Is(err, fs.ErrNotExist) {
				return fmt.Errorf("output folder: %w", err)
			}
		}
	}
	for _, f := range s.files { // the manifest is last
		if err := os.Rename(f.tmp, f.path); err != nil {
			return fmt.Errorf("output file: %w", err)
		}
	}
	return syncFolder(s.dir)
}

// Abort removes everything written aside. It may follow a Commit, which leaves
// it nothing to do.
func (s *Set) Abort() error {
	var errs []error
	for _, f := range s.files {
		f.f.Close()
		if err := os.Remove(f.tmp); err != nil && !errors.Is(err, fs.ErrNotExist) {
			errs = append(errs, err)
		}
	}
	s.files = nil
	return errors.Join(errs...)
}

// syncFolder makes the renames in dir last over a power cut, where the system
// can sync a folder.
func syncFolder(dir string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	d, err := os.Open(dir)
	if err != nil {
		return fmt.Errorf("output folder: %w", err)
	}
	return errors.Join(d.Sync(), d.Close())
}

// A File is one file of a Set, written aside.
type File struct {
	Written
	path, tmp string
	f         *os.File
	sum       hash.Hash
	byPath    bool // written by someone who was given the path
	closed    bool
}

// Path returns where the file is written aside, for a writer that needs a path;
// such a writer must be done before Close, which reads what it has written.
func (f *File) Path() string {
	f.byPath = true
	return f.tmp
}

// Write writes b and counts it into the file's hash.
func (f *File) Write(b []byte) (int, error) {
	n, err := f.f.Write(b)
	f.sum.Write(b[:n])
	f.Bytes += int64(n)
	if err != nil {
		return n, fmt.Errorf("output file %s: %w", f.path, err)
	}
	return n, nil
}

// Close makes the file's content safe on disk. A second Close does nothing.
func (f *File) Close() error {
	if f.closed {
		return nil
	}
	f.closed = true
	if f.byPath {
		n, err := io.Copy(f.sum, f.f)
		if err != nil {
			return fmt.Errorf("output file %s: %w", f.path, err)
		}
		f.Bytes = n
	}
	f.SHA256 = hex.EncodeToString(f.sum.Sum(nil))
	if err := errors.Join(f.f.Sync(), f.f.Close()); err != nil {
		return fmt.Errorf("output file %s: %w", f.path, err)
	}
	return nil
}

// CheckFolder returns a *FolderError if dir holds a run of another plan than the
// one with the given hash, or a manifest that is not ours. A folder that does
// not exist or has no manifest is fine.
func CheckFolder(dir, planSHA256 string) error {
	m, err := ReadManifest(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return &FolderError{Dir: dir, Problem: "has a " + ManifestName + " that is not of a run: " + err.Error()}
	case m.PlanSHA256 != planSHA256:
		return &FolderError{Dir: dir, Problem: fmt.Sprintf("holds a run of another plan (sha256 %.12s, this one %.12s)", m.PlanSHA256, planSHA256)}
	}
	return nil
}

// A FolderError says that a folder holds something a run must not overwrite
// unasked.
type FolderError struct{ Dir, Problem string }

func (e *FolderError) Error() string {
	return fmt.Sprintf("output folder %s %s: choose another folder, or pass --force to replace it", e.Dir, e.Problem)
}
