package commands

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"plinth/pipeline"
	"plinth/pipeline/output"
	"plinth/pipeline/page"
)

// pageMay returns an error unless a page may be written to path. It accepts "" for no page. A page
// never replaces a file that the run reads. It may only replace a page of ours that is not one of
// the results of a run.
func pageMay(path string, run *pipeline.Run) error {
	if path == "" {
		return nil
	}
	ours, err := isPage(path)
	if err != nil {
		return err
	}
	reads := run.Reads()
	if err := output.MayReplace(path, reads, ours); err != nil {
		return err
	}
	aside := path + ".unfinished" // of disk.Write
	ours, err = isPage(aside)
	if err != nil {
		return err
	}
	return output.MayReplace(aside, reads, ours)
}

// isPage reports whether path leads to a page of ours, whole or half written, that no manifest
// beside it lists.
func isPage(path string) (bool, error) {
	info, err := os.Lstat(path)
	if errors.Is(err, fs.ErrNotExist) || err == nil && !info.Mode().IsRegular() {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	f, err := os.Open(path)
	if err != nil {
		return false, err
	}
	defer f.Close()
	head := make([]byte, 256)
	n, err := io.ReadFull(f, head)
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return false, err
	}
	marked := slices.ContainsFunc(page.Marks[:],
		func(mark string) bool { return bytes.Contains(head[:n], []byte(mark)) })
	if n > 0 && !marked { // an empty file has nothing to lose
		return false, nil
	}
	m, err := output.ReadManifest(filepath.Dir(path))
	if err != nil {
		return true, nil // no run beside it
	}
	listed := func(w output.Written) bool { return w.Name == filepath.Base(path) }
	return !slices.ContainsFunc(m.Files, listed), nil
}
