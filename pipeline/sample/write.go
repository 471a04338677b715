package sample

import (
	"context"
	_ "embed"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"plinth/pipeline/disk"
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
// The end of ctx ends it with no file half written.
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

func create(path string, overwrite bool, write func(io.Writer) error) error {
	if _, err := os.Lstat(path); err == nil && !overwrite {
		return fmt.Errorf("%s is there already; choose another folder, or --force to write over it", path)
	}
	if err := disk.Write(path, 0o666, write); err != nil {
		return fmt.Errorf("the demo cannot be written: %w", err)
	}
	return nil
}
