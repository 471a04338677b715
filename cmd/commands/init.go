package commands

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"plinth/pipeline/disk"
	"plinth/pipeline/propose"
)

func initCommand() *cli.Command {
	return &cli.Command{
		Name:      "init",
		Usage:     "propose a plan for a register: its columns, units and words, and what is missing",
		ArgsUsage: "REGISTER",
		Description: "Looks at the names and the values of the columns of REGISTER (CSV, XLSX, GeoJSON,\n" +
			"GeoPackage or Parquet) and writes plan.toml beside it, with a comment behind every line that needs\n" +
			"a look. Asks nothing and knows no hazard: that is left to do in the plan.\n\n" +
			"Examples:\n" +
			"   plinth init school/register.xlsx\n" +
			"   plinth check school/plan.toml",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "plan",
				Usage: "write the plan to `FILE` (plan.toml beside the register if not given)"},
			&cli.BoolFlag{Name: "force", Usage: "write over a plan that is there"},
			quietFlag(),
		},
		OnUsageError: asUsage,
		Action: func(c *cli.Context) error {
			args, err := arguments(c, "REGISTER")
			if err != nil {
				return err
			}
			return propound(c, args[0])
		},
	}
}

// propound writes the plan that a register suggests.
func propound(c *cli.Context, register string) error {
	path := c.String("plan")
	if path == "" {
		path = filepath.Join(filepath.Dir(register), "plan.toml")
	}
	if err := planMay(path, register, c.Bool("force")); err != nil {
		return err
	}
	named, err := fromPlan(path, register)
	if err != nil {
		return err
	}
	found, err := propose.Look(c.Context, register)
	if err != nil {
		return err
	}
	doc := found.TOML(named)
	if err := disk.Write(path, 0o666, func(w io.Writer) error { _, err := w.Write(doc); return err }); err != nil {
		return err
	}
	if c.Bool("quiet") {
		return nil
	}
	if err := found.Write(c.App.Writer); err != nil {
		return err
	}
	fmt.Fprintf(c.App.ErrWriter, "wrote %s\nnext: plinth check %s\n", path, path)
	return nil
}

// planMay returns an error if a plan may not be written to path.
func planMay(path, register string, force bool) error {
	there, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	if from, err := os.Stat(register); err == nil && os.SameFile(there, from) {
		return fmt.Errorf("%s is the register itself; name another file with --plan", path)
	}
	if !force {
		return fmt.Errorf("%s is there already; name another file with --plan, or --force to write over it", path)
	}
	if !there.Mode().IsRegular() {
		return fmt.Errorf("%s is no file; name another with --plan", path)
	}
	return nil
}

// fromPlan returns the path of the register as the plan names it, from its own folder where
// that is possible.
func fromPlan(path, register string) (string, error) {
	folder, err := filepath.Abs(filepath.Dir(path))
	if err != nil {
		return "", err
	}
	whole, err := filepath.Abs(register)
	if err != nil {
		return "", err
	}
	if short, err := filepath.Rel(folder, whole); err == nil {
		return short, nil
	}
	return whole, nil
}
