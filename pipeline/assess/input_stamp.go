package assess

import (
	"fmt"
	"os"
	"time"
)

// An inputStamp records the size and modification time of an input when the study is
// opened, so that a change during the run is detected.
type inputStamp struct {
	path     string
	size     int64
	modified time.Time
}

// A ChangedError says that an input was changed while the run read it.
type ChangedError struct{ Path string }

func (e *ChangedError) Error() string {
	return fmt.Sprintf("%s was changed while the run read it: nothing was written; run again once it is "+
		"whole", e.Path)
}

// stamp records an input before it is read, and refuses folders, pipes and devices. A missing
// file is left to its reader to report.
func (study *Study) stamp(path string) error {
	info, err := os.Stat(path)
	if err != nil {
		return nil
	}
	if info.IsDir() {
		return fmt.Errorf("%s is a folder; give the path of a file", path)
	}
	if !info.Mode().IsRegular() {
		return fmt.Errorf("%s is a pipe or a device: a run reads its inputs more than once; save it to a "+
			"file first", path)
	}
	study.stamps = append(study.stamps, inputStamp{path, info.Size(), info.ModTime()})
	return nil
}

// Unchanged returns a *ChangedError if an input differs from its stamp.
func (study *Study) Unchanged() error {
	for _, s := range study.stamps {
		info, err := os.Stat(s.path)
		if err != nil || info.Size() != s.size || !info.ModTime().Equal(s.modified) {
			return &ChangedError{s.path}
		}
	}
	return nil
}
