// Package disk writes files that appear whole and survive a power cut.
package disk

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
)

// Write writes a file so that its path leads to the old content or to the new, whenever the process
// or the machine stops. An unfinished file stands beside it as PATH.unfinished, and the next Write
// replaces it. The file mode is mode before umask.
func Write(path string, mode fs.FileMode, write func(io.Writer) error) error {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return fmt.Errorf("%s is a folder; give the path of a file", path)
	}
	os.Remove(path + ".unfinished") // of an earlier process, whose mode it has
	f, err := os.OpenFile(path+".unfinished", os.O_RDWR|os.O_CREATE|os.O_TRUNC, mode)
	if err != nil {
		return fmt.Errorf("%s cannot be written: %w", path, err)
	}
	err = write(f)
	err = errors.Join(err, f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return SyncFolder(filepath.Dir(path))
}

// SyncFile makes the content of a closed file safe on disk.
func SyncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// SyncFolder makes the names in a folder safe on disk, if the system can sync a folder.
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
