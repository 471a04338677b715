package output

import (
	"cmp"
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

	"plinth/pipeline/disk"
)

// A Set holds the files of one run. They are written to a working folder within the folder of the
// results. Commit moves all of them into place, the manifest last: a folder with a manifest holds a
// whole run. Abort removes them. While a Set is open, no other Set can be opened on its folder.
//
// A Set must not be used by several goroutines at once.
type Set struct {
	dir     string
	mode    fs.FileMode // of the files
	reads   []string    // paths of what the run reads
	old     []string    // files of the run that the folder holds
	files   []*File
	working *working // nil once the Set has ended
}

// A Claim describes a run to the folder that it will write to.
type Claim struct {
	Plan    string                  // its hash by HashPlan
	Version string                  // version of the program
	Inputs  func() ([]Input, error) // what it reads, with hashes; nil for nothing
	Reads   []string                // paths of all it reads, the plan among them
	Names   []string                // of files it may write, for a refusal before the first row
	Replace bool                    // another run, or results that were edited, may be written over
	Private bool                    // nobody but the owner may read what is written
}

// NewSet returns a Set for folder dir. It creates the folder if there is none, and removes what an
// earlier run left unfinished there. The error is a *FolderError if another process writes to the
// folder, or if the folder holds a run that can be resumed and c does not replace it. Other errors
// are those of Admit.
func NewSet(dir string, c Claim) (*Set, error) {
	s, err := LockSet(dir, c.Private)
	if err != nil {
		return nil, err
	}
	if !c.Replace && s.working.unfinished() {
		err = &FolderError{Dir: dir, Problem: "holds a run that was ended early",
			Remedy: "pass --resume to go on with it, or --force to begin anew"}
	}
	if err == nil {
		err = s.Admit(c)
	}
	if err == nil {
		err = s.working.clear()
	}
	if err != nil {
		return nil, errors.Join(err, s.Abort())
	}
	return s, nil
}

// LockSet returns a Set for folder dir. It creates the folder if there is none, and keeps what an
// earlier run left unfinished there. Admit must follow. What a private Set creates is for its owner
// alone, on systems that know owners. A folder that exists keeps its mode, and is refused if others
// may read it.
func LockSet(dir string, private bool) (*Set, error) {
	s := &Set{dir: dir, mode: 0o666}
	folders := fs.FileMode(0o777)
	if private {
		s.mode, folders = 0o600, 0o700
		if err := CheckPrivate(dir); err != nil {
			return nil, err
		}
	}
	var err error
	s.working, err = openWorking(dir, folders)
	if err != nil {
		return nil, err
	}
	return s, nil
}

// CheckPrivate returns a *FolderError if dir exists and others than its owner may enter it. It
// returns nil on systems without such modes.
func CheckPrivate(dir string) error {
	info, err := os.Stat(dir)
	if err != nil || runtime.GOOS == "windows" || info.Mode().Perm()&0o077 == 0 {
		return nil
	}
	return &FolderError{
		Dir: dir, Problem: fmt.Sprintf("is open to others (mode %o), and the plan says private = true",
			info.Mode().Perm()),
		Remedy: "choose a folder that is not there yet, or close this one yourself (chmod 700) if nobody else " +
			"needs it",
	}
}

// Admit checks that a Set may write the run of c. Files that c reads, and files that no run wrote,
// are never written over or removed (MayReplace). The error is a *FolderError if the folder holds
// another run, which c may not replace.
func (s *Set) Admit(c Claim) error {
	m, err := ReadManifest(s.dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case errors.Is(err, errForeign):
		return &FolderError{Dir: s.dir, Problem: "has a " + ManifestName + " that is not of a run: " + err.Error(),
			Remedy: "choose another folder, or move that file away"}
	case err != nil:
		return fmt.Errorf("output folder %s: %w; nothing was changed", s.dir, err)
	case !c.Replace:
		if err := c.sameRun(s.dir, m); err != nil {
			return err
		}
	}
	s.reads = c.Reads
	s.old = m.names()
	if cut, err := ReadManifest(s.working.path); err == nil { // a commit was cut short
		s.old = append(s.old, cut.names()...)
	}
	for _, read := range c.Reads {
		if same(filepath.Dir(read), s.working.path) || same(read, filepath.Join(s.dir, ManifestName)) {
			return &KeepError{read, "is a file that this run reads, in the place of its own files",
				"move it, and name it in the plan where it is then"}
		}
	}
	for _, name := range slices.Concat(s.old, c.Names) {
		if err := s.may(name); err != nil {
			return err
		}
	}
	return nil
}

// may applies MayReplace to a file of the folder.
func (s *Set) may(name string) error {
	return MayReplace(filepath.Join(s.dir, name), s.reads, name == ManifestName || slices.Contains(s.old, name))
}

// names returns the files that m lists as its own. None of them can lie outside its folder.
func (m *Manifest) names() []string {
	var list []string
	if m == nil {
		return nil
	}
	for _, f := range m.Files {
		if f.Name == filepath.Base(f.Name) && !slices.Contains([]string{".", "..", ManifestName, WorkingName},
			f.Name) {
			list = append(list, f.Name)
		}
	}
	return list
}

// Working returns the folder for unfinished work. It is removed with the Set, unless the Set is
// aborted and the folder holds a file called CheckpointName.
func (s *Set) Working() string { return s.working.path }

// Tidy removes every file of the working folder that keep does not accept. keep gets the path
// within that folder, with slashes. The checkpoint and the lock stay.
func (s *Set) Tidy(keep func(path string) bool) error { return s.working.tidy(keep) }

// Create starts the file called name, which has no folder in it. The error is a *KeepError if the
// run reads such a file, or if no manifest lists the file that stands there.
func (s *Set) Create(name string) (*File, error) {
	path := filepath.Join(s.dir, name)
	if err := s.may(name); err != nil {
		return nil, err
	}
	tmp := filepath.Join(s.working.path, name)
	f, err := os.OpenFile(tmp, os.O_RDWR|os.O_CREATE|os.O_TRUNC, s.mode)
	if err != nil {
		return nil, fmt.Errorf("output file %s: %w", path, err)
	}
	file := &File{path: path, tmp: tmp, f: f, out: disk.NewLong(f), sum: sha256.New(),
		Written: Written{Name: name}}
	s.files = append(s.files, file)
	return file, nil
}

// Commit writes the manifest, with the list of files added to it, and moves all files into place.
// It removes files of an earlier run that this run did not write, so that the folder holds one run.
// After an error the folder has no manifest or the earlier one, never one that does not fit its
// files.
func (s *Set) Commit(m *Manifest) error {
	if err := s.commit(m); err != nil {
		return errors.Join(err, s.Abort())
	}
	s.files = nil
	return s.end(false)
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
	if err := m.Write(manifest); err != nil {
		return err
	}
	if err := errors.Join(manifest.Close(), disk.SyncFolder(s.working.path)); err != nil {
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
	if err := disk.SyncFolder(s.dir); err != nil {
		return fmt.Errorf("output folder: %w", err)
	}
	return nil
}

// end gives up the working folder, which it keeps for a later run or removes.
func (s *Set) end(keep bool) error {
	if s.working == nil {
		return nil
	}
	err := s.working.close(keep)
	s.working = nil
	if err != nil {
		return fmt.Errorf("output folder: %w", err)
	}
	return nil
}

// Abort removes every unfinished file, except for a checkpoint and the files that belong to it.
// After a Commit it does nothing.
func (s *Set) Abort() error {
	var errs []error
	for _, f := range s.files {
		f.f.Close()
		if err := os.Remove(f.tmp); err != nil && !errors.Is(err, fs.ErrNotExist) {
			errs = append(errs, err)
		}
	}
	s.files = nil
	errs = append(errs, s.end(s.working != nil && s.working.unfinished()))
	return errors.Join(errs...)
}

// A File is one file of a Set in the working folder.
type File struct {
	Written
	path, tmp string
	f         *os.File
	out       *disk.Long
	sum       hash.Hash
	byPath    bool // it is written through its path, not through Write
	closed    bool
}

// Path returns the path of the unfinished file, for a writer that needs a path. Such a writer must
// be done before Close, which reads what it has written.
func (f *File) Path() string {
	f.byPath = true
	return f.tmp
}

// Write writes b and adds it to the hash of the file.
func (f *File) Write(b []byte) (int, error) {
	n, err := f.out.Write(b)
	f.sum.Write(b[:n])
	f.Bytes += int64(n)
	if err != nil {
		return n, fmt.Errorf("output file %s: %w", f.path, err)
	}
	return n, nil
}

// Close makes the content of the file safe on disk. A second Close does nothing.
func (f *File) Close() error {
	if f.closed {
		return nil
	}
	f.closed = true
	if err := f.out.Flush(); err != nil {
		return fmt.Errorf("output file %s: %w", f.path, err)
	}
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

// A FolderError says that a folder holds something that a run must not overwrite unasked, or that
// another run is writing to it.
type FolderError struct {
	Dir, Problem string
	Remedy       string // "" for the usual one: another folder or --force
}

func (e *FolderError) Error() string {
	remedy := cmp.Or(e.Remedy, "choose another folder, or pass --force to replace it")
	return fmt.Sprintf("output folder %s %s: %s", e.Dir, e.Problem, remedy)
}
