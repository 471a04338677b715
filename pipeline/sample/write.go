package sample

import (
	_ "embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// Buildings is the size of the demo town.
const Buildings = 240

//go:embed plan.toml
var plan string

// The files of a demo.
const (
	PlanFile     = "plan.toml"
	RegisterFile = "buildings.csv"
	HazardFile   = "hazard.csv"
)

// Write writes the demo with n buildings into dir, making dir if need be. It
// leaves files that are there alone and says so, unless overwrite is set.
func Write(dir string, n int, overwrite bool) error {
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
		{RegisterFile, func(w io.Writer) error { return writeRegister(w, n) }},
	} {
		if err := create(filepath.Join(dir, f.name), overwrite, f.write); err != nil {
			return err
		}
	}
	return nil
}

func create(path string, overwrite bool, write func(io.Writer) error) error {
	mode := os.O_WRONLY | os.O_CREATE | os.O_EXCL
	if overwrite {
		mode = os.O_WRONLY | os.O_CREATE | os.O_TRUNC
	}
	f, err := os.OpenFile(path, mode, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s is there already; choose another folder, or --force to write over it", path)
	}
	if err != nil {
		return fmt.Errorf("the demo cannot be written: %w", err)
	}
	if err := write(f); err != nil {
		f.Close()
		return fmt.Errorf("the demo cannot be written: %w", err)
	}
	return f.Close()
}
