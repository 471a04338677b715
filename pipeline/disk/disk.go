// Package disk makes what was written last over a power cut and appear whole.
package disk

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
)

// Replace writes a file such that its path leads to the old content or the new,
// whenever the process or the machine stops.
func Replace(path string, content []byte) error {
	f, err := os.CreateTemp(filepath.Dir(path), filepath.Base(path)+".new-")
	if err != nil {
		return err
	}
	_, err = f.Write(content)
	err = errors.Join(err, f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return SyncFolder(filepath.Dir(path))
}

// SyncFile makes the content of a file that was written and closed last.
func SyncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// SyncFolder makes the names in a folder last, where the system can sync a folder.
func SyncFolder(dir string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}
