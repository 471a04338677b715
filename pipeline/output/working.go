package output

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/gofrs/flock"
)

// WorkingName is the folder within an output folder that holds unfinished work. It exists while a
// run is at work, and after a run that ended early and can be resumed.
const WorkingName = "plinth-unfinished"

// CheckpointName is the file in a working folder that records how far a run has come. A working
// folder that has it is kept when the run ends early.
const CheckpointName = "checkpoint"

const lockName = "lock"

// lockMark begins the lock file. It tells a working folder from a folder of that name that belongs
// to the owner.
const lockMark = "plinth "

// A working is the working folder of one process, which holds the lock of the output folder. The
// system releases the lock when the process ends, however it ends.
type working struct {
	path string
	lock *flock.Flock
}

// openWorking creates and locks the working folder of dir. A *FolderError says that another process
// holds it, or that what stands there is not ours. Folders that are created get the given mode.
func openWorking(dir string, mode fs.FileMode) (*working, error) {
	w := &working{path: filepath.Join(dir, WorkingName)}
	for { // until the locked file is the one that stands in the folder
		if err := w.ours(dir); err != nil {
			return nil, err
		}
		if err := os.MkdirAll(w.path, mode); err != nil {
			return nil, fmt.Errorf("output folder %s: %w; choose another (folder under [output])", dir, err)
		}
		w.lock = flock.New(filepath.Join(w.path, lockName))
		ok, err := w.lock.TryLock()
		switch {
		case errors.Is(err, fs.ErrNotExist): // another process has just removed the folder
			continue
		case err != nil:
			return nil, fmt.Errorf("output folder %s: %w; choose another (folder under [output])", dir, err)
		case !ok:
			holder, _ := os.ReadFile(w.lock.Path()) // for the message only
			return nil, &FolderError{Dir: dir, Problem: strings.TrimSpace("is being written to by another run " +
				strings.TrimPrefix(string(holder), lockMark)), Remedy: "wait until it ends, or choose another folder"}
		}
		if w.stands() {
			// The name of the holder is for people. A lock without it works as well.
			_ = os.WriteFile(w.lock.Path(), fmt.Appendf(nil, lockMark+"(process %d)", os.Getpid()), 0o666)
			return w, nil
		}
		_ = w.lock.Close() // the file has been removed
	}
}

// ours returns a *FolderError if what stands at the path of w was not made by a run: a link, or a
// folder that holds files and no lock with our mark. A process that was killed may have left the
// folder empty, and a power cut may have left the lock empty.
func (w *working) ours(dir string) error {
	refused := func(what string) error {
		return &FolderError{Dir: dir, Problem: "has a " + WorkingName + " that " + what,
			Remedy: "move it away, or choose another folder"}
	}
	info, err := os.Lstat(w.path)
	switch {
	case err != nil:
		return nil // MkdirAll says what is wrong
	case info.Mode()&fs.ModeSymlink != 0:
		return refused("is a link: what is unfinished must be on the disk of the results")
	case !info.IsDir():
		return refused("is not a folder")
	}
	entries, err := os.ReadDir(w.path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil // the process that held it has just ended
	}
	if err != nil {
		return fmt.Errorf("output folder %s: %w", dir, err)
	}
	if len(entries) == 0 {
		return nil
	}
	lock := filepath.Join(w.path, lockName)
	if info, err := os.Lstat(lock); err == nil && !info.Mode().IsRegular() {
		return refused("was not made by a run (its lock is not a file)")
	}
	mark, err := os.ReadFile(lock)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if again, err := os.ReadDir(w.path); err != nil || len(again) == 0 {
			return nil // another process is removing it at this moment
		}
		return refused("was not made by a run (it has no lock)")
	case err == nil && len(mark) > 0 && !strings.HasPrefix(string(mark), lockMark):
		return refused("was not made by a run (its lock is not ours)")
	}
	return nil // a file that cannot be read may be locked; the lock is tried next
}

// stands reports whether the locked file is the one in the folder.
func (w *working) stands() bool {
	locked, err := w.lock.Stat()
	if err != nil {
		return false
	}
	there, err := os.Stat(w.lock.Path())
	return err == nil && os.SameFile(locked, there)
}

// unfinished reports whether the folder holds a run that can be resumed.
func (w *working) unfinished() bool {
	_, err := os.Stat(filepath.Join(w.path, CheckpointName))
	return err == nil
}

// clear removes everything in the folder but the lock and the manifest of a commit that was cut
// short. That manifest shows that the files it lists are ours.
func (w *working) clear() error {
	if err := w.dropCheckpoint(); err != nil {
		return fmt.Errorf("output folder: %w", err)
	}
	return w.tidy(func(string) bool { return false })
}

// tidy does what clear does, and also keeps the checkpoint and the files that keep accepts.
func (w *working) tidy(keep func(path string) bool) error {
	err := fs.WalkDir(os.DirFS(w.path), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path == lockName || path == CheckpointName || path == ManifestName ||
			keep(path) {
			return err
		}
		return os.Remove(filepath.Join(w.path, filepath.FromSlash(path)))
	})
	if err != nil {
		return fmt.Errorf("output folder: %w", err)
	}
	return nil
}

// dropCheckpoint removes the checkpoint before its runs, since a checkpoint without its runs would
// be a damaged one.
func (w *working) dropCheckpoint() error {
	err := os.Remove(filepath.Join(w.path, CheckpointName))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

// close gives up the folder. It removes the folder unless a run in it can be resumed.
func (w *working) close(keep bool) error {
	var err error
	if !keep {
		err = errors.Join(w.dropCheckpoint(), w.remove())
	}
	return errors.Join(err, w.lock.Close())
}

// remove removes the folder, the lock last. If the process is killed meanwhile, the next run still
// recognises the rest by the mark in the lock.
func (w *working) remove() error {
	entries, err := os.ReadDir(w.path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	errs := []error{err}
	for _, e := range entries {
		if e.Name() != lockName {
			errs = append(errs, os.RemoveAll(filepath.Join(w.path, e.Name())))
		}
	}
	if err := errors.Join(errs...); err != nil {
		return err
	}
	return os.RemoveAll(w.path)
}
