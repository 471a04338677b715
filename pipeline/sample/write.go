package sample

import (
	"bytes"
	"context"
	_ "embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
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
	for _, f := range []struct {
		name  string
		write func(io.Writer) error
	}{
		{PlanFile, func(w io.Writer) error { _, err := io.WriteString(w, plan); return err }},
		{HazardFile, writeHazard},
		{RegisterFile, func(w io.Writer) error { return writeRegister(ctx, w, n) }},
	} {
		if err := create(filepath.Join(dir, f.name), overwrite, f.write); err != nil {
			return err
		}
	}
	return nil
}

// create writes a file of the demo. It replaces an existing file only with overwrite, and only if
// that file begins as a demo's does: no flag replaces a file of an owner.
func create(path string, overwrite bool, write func(io.Writer) error) error {
	_, err := os.Lstat(path)
	there := err == nil
	if there && !overwrite {
		return fmt.Errorf("%s is there already; choose another folder, or --force to write over it", path)
	}
	ours, err := begins(path, write)
	if err != nil {
		return err
	}
	if err := output.MayReplace(path, nil, ours); err != nil {
		return err
	}
	if err := disk.Write(path, 0o666, write); err != nil {
		return fmt.Errorf("the demo cannot be written: %w", err)
	}
	return nil
}

// begins reports whether the file at path has the same first line as what write writes.
func begins(path string, write func(io.Writer) error) (bool, error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil {
		return false, fmt.Errorf("the demo cannot be written: %w", err)
	}
	defer f.Close()
	line := &firstLine{}
	if err := write(line); err != nil && !errors.Is(err, io.ErrShortWrite) {
		return false, err
	}
	head := make([]byte, len(line.text))
	n, err := io.ReadFull(f, head)
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return false, fmt.Errorf("the demo cannot be written: %w", err)
	}
	return bytes.Equal(head[:n], line.text), nil
}

// A firstLine keeps the first line that is written to it, then stops the writer.
type firstLine struct{ text []byte }

func (l *firstLine) Write(b []byte) (int, error) {
	head, _, ended := bytes.Cut(b, []byte("\n"))
	l.text = append(l.text, head...)
	if ended {
		return len(head), io.ErrShortWrite
	}
	return len(b), nil
}
