package sample

import (
	"bufio"
	"context"
	_ "embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"

	"plinth/pipeline/disk"
	"plinth/pipeline/output"
)

// Buildings is the number of buildings of the demo town.
const Buildings = 240

//go:embed plan.toml
var plan string

// The files of a demo.
const (
	PlanFile     = "plan.toml"
	RegisterFile = "buildings.csv"
	HazardFile   = "hazard.csv"
)

// Write writes the demo with n buildings into dir, and creates dir if there is none. It leaves
// existing files alone and says so, unless overwrite is set and they are files of a demo. If ctx
// ends, Write ends and leaves no file half written.
func Write(ctx context.Context, dir string, n int, overwrite bool) error {
	if n < 1 {
		return fmt.Errorf("a demo of %d buildings cannot be written; ask for 1 or more", n)
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("the demo's folder cannot be made: %w", err)
	}
	text := func(w io.Writer) error { _, err := io.WriteString(w, plan); return err }
	register := func(n int) func(io.Writer) error {
		return func(w io.Writer) error { return writeRegister(ctx, w, n) }
	}
	for _, f := range []struct {
		name         string
		write, whole func(io.Writer) error // what is written, and the longest that a demo may hold
	}{
		{PlanFile, text, text},
		{HazardFile, writeHazard, writeHazard},
		{RegisterFile, register(n), register(math.MaxInt)},
	} {
		if err := create(filepath.Join(dir, f.name), overwrite, f.write, f.whole); err != nil {
			return err
		}
	}
	return nil
}

// create writes a file of the demo. It replaces an existing file only with overwrite, and only if
// that file is a demo's, unchanged, of any number of buildings: no flag replaces what an owner has
// written or changed.
func create(path string, overwrite bool, write, whole func(io.Writer) error) error {
	ours, err := isDemo(path, whole)
	if err != nil {
		return err
	}
	if _, err := os.Lstat(path); err == nil && ours && !overwrite {
		return fmt.Errorf("%s is there already; choose another folder, or --force to write over it", path)
	}
	if err := output.MayReplace(path, nil, ours); err != nil {
		return err
	}
	if err := disk.Write(path, 0o666, write); err != nil {
		return fmt.Errorf("the demo cannot be written: %w", err)
	}
	return nil
}

// isDemo reports whether the file at path holds what write writes, or whole lines of its beginning.
func isDemo(path string, write func(io.Writer) error) (bool, error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil {
		return false, fmt.Errorf("the demo cannot be written: %w", err)
	}
	defer f.Close()
	c := &comparison{file: bufio.NewReader(f)}
	if err := write(c); err != nil && !errors.Is(err, errCompared) {
		return false, fmt.Errorf("the demo cannot be written: %w", err)
	}
	if c.ended || c.differs {
		return !c.differs && c.last == '\n', nil
	}
	_, err = c.file.ReadByte()
	return errors.Is(err, io.EOF), nil
}

// errCompared ends a writer whose output no longer matters.
var errCompared = errors.New("compared")

// A comparison compares what is written to it with a file. It ends its writer at the end of the file
// or at the first byte that differs.
type comparison struct {
	file           *bufio.Reader
	last           byte // of the file that was equal
	differs, ended bool
}

func (c *comparison) Write(b []byte) (int, error) {
	for i := range b {
		x, err := c.file.ReadByte()
		switch {
		case errors.Is(err, io.EOF):
			c.ended = true
			return i, errCompared
		case err != nil:
			return i, err
		case x != b[i]:
			c.differs = true
			return i, errCompared
		}
		c.last = x
	}
	return len(b), nil
}
