package extsort

import (
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"

	"plinth/pipeline/disk"
)

// A Run is a file of sorted records that outlives its Sorter.
type Run struct {
	Path  string `json:"path"` // within the folder of Options, with slashes
	Bytes int64  `json:"bytes"`
	Sum   uint32 `json:"crc32c"` // of the whole file
}

// A spilled is a run of a Sorter.
type spilled struct {
	path   string
	bytes  int64
	sum    uint32
	synced bool // safely on disk
	saved  bool // outlives the Sorter
}

// castagnoli is the polynomial of CRC-32C (RFC 3720), which processors compute.
var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// ErrDamaged is returned by Restore for a run that is not as it was saved.
var ErrDamaged = errors.New("not as it was saved")

// Save brings every record that was added so far safely to disk and returns all runs. The runs stay
// when the Sorter is closed. Restore gives them to another Sorter, which then has the records that
// this one has now. Records may be added after Save. Save needs a Folder.
func (s *Sorter) Save() ([]Run, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.parent == "" || s.sorted {
		panic("ranking: Save without a folder, or after Sorted")
	}
	if s.flush(); s.err == nil {
		s.err = s.sync()
	}
	if s.err != nil {
		return nil, s.err
	}
	out := make([]Run, len(s.runs))
	for i, r := range s.runs {
		path, err := filepath.Rel(s.parent, r.path)
		if err != nil {
			return nil, &SortError{"save sorted run", r.path, err}
		}
		out[i] = Run{filepath.ToSlash(path), r.bytes, r.sum}
	}
	return out, nil
}

// sync brings the runs that are not saved yet safely to disk.
func (s *Sorter) sync() error {
	fresh := false
	for i := range s.runs {
		r := &s.runs[i]
		if r.saved {
			continue
		}
		if !r.synced {
			if err := disk.SyncFile(r.path); err != nil {
				return &SortError{"save sorted run", r.path, err}
			}
		}
		r.saved, s.saved, fresh = true, true, true
	}
	if !fresh {
		return nil
	}
	if err := disk.SyncFolder(s.folder); err != nil {
		return &SortError{"save sorted runs in", s.folder, err}
	}
	return nil
}

// Restore gives a new Sorter the runs that Save of an earlier Sorter with the same Folder returned.
// It reads all of them. The error wraps ErrDamaged if a run is not as it was saved.
func (s *Sorter) Restore(runs []Run) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.sorted || len(s.runs) > 0 || len(s.filling.entries) > 0 {
		panic("ranking: Restore into a Sorter in use")
	}
	for _, r := range runs {
		if !filepath.IsLocal(filepath.FromSlash(r.Path)) {
			return &SortError{"restore sorted run", r.Path, ErrDamaged}
		}
		path := filepath.Join(s.parent, filepath.FromSlash(r.Path))
		if err := r.check(path); err != nil {
			return &SortError{"restore sorted run", path, err}
		}
		s.runs = append(s.runs, spilled{path, r.Bytes, r.Sum, true, true})
		s.saved = true
	}
	return nil
}

// check reads a run and compares its size and checksum with those that were saved.
func (r *Run) check(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return errors.Join(ErrDamaged, err)
	}
	defer f.Close()
	sum := crc32.New(castagnoli)
	n, err := io.Copy(sum, f)
	switch {
	case err != nil:
		return err
	case n != r.Bytes:
		return fmt.Errorf("%w: %d bytes, it had %d", ErrDamaged, n, r.Bytes)
	case sum.Sum32() != r.Sum:
		return fmt.Errorf("%w: its checksum is another", ErrDamaged)
	}
	return nil
}

// remove removes the files of the Sorter, except for saved runs.
func (s *Sorter) remove() error {
	if s.saved {
		var err error
		for _, r := range s.runs {
			if !r.saved {
				err = errors.Join(err, removeRun(r.path))
			}
		}
		return err
	}
	if s.folder == "" {
		return nil
	}
	if err := os.RemoveAll(s.folder); err != nil {
		return &SortError{"remove sorted runs in", s.folder, err}
	}
	return nil
}

func removeRun(path string) error {
	if err := os.Remove(path); err != nil {
		return &SortError{"remove sorted run", path, err}
	}
	return nil
}
