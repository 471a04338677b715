package commands

import (
	"fmt"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"plinth/pipeline"
	"plinth/pipeline/plan"
)

func screenCommand() *cli.Command {
	return &cli.Command{
		Name:      "screen",
		Usage:     "run a plan: read, assess, rank, write",
		ArgsUsage: "PLAN",
		Description: "Reads the register and the hazard of PLAN, assesses every building as it stands and with each\n" +
			"measure, and writes ranked lists to the plan's output folder, all files or none.\n\n" +
			"Examples:\n" +
			"   plinth screen demo/plan.toml\n" +
			"   plinth screen --force --workers 1 demo/plan.toml     over an earlier run, on one processor",
		Flags: []cli.Flag{
			&cli.IntFlag{Name: "workers", Usage: "assess on `N` processors (0: all); changes no byte of the results"},
			&cli.IntFlag{Name: "memory", Usage: "sort within `MB` megabytes before going to disk (0: 256)"},
			&cli.BoolFlag{Name: "force", Usage: "write over another run in the output folder"},
			&cli.BoolFlag{Name: "quiet", Usage: "print nothing but errors"},
		},
		OnUsageError: asUsage,
		Action:       screen,
	}
}

func screen(c *cli.Context) error {
	run, err := openRun(c)
	if err != nil {
		return err
	}
	if c.Int("workers") < 0 || c.Int("memory") < 0 {
		return &usageError{fmt.Errorf("--workers and --memory cannot be negative")}
	}
	bar := newProgress(c)
	res, err := run.Screen(c.Context, pipeline.Settings{
		Version: Version, Workers: c.Int("workers"), Memory: int64(c.Int("memory")) << 20,
		Replace: c.Bool("force"), Progress: bar.rows,
	})
	bar.done()
	if err != nil {
		return err
	}
	if !c.Bool("quiet") {
		if err := res.Summary.Write(c.App.Writer); err != nil {
			return err
		}
		fmt.Fprintf(c.App.Writer, "\nResults are in %s\n", filepath.Clean(run.Plan().Output.Folder))
	}
	return rejected(res.Summary.Counts.Rejected)
}

// openRun loads the plan that is the command's argument and makes it ready.
func openRun(c *cli.Context) (*pipeline.Run, error) {
	args, err := arguments(c, "PLAN")
	if err != nil {
		return nil, err
	}
	p, err := plan.Load(args[0])
	if err != nil {
		return nil, err
	}
	return pipeline.Open(p)
}

// rejected returns the error that carries the exit code of a run with so many
// rejected rows, nil for none.
func rejected(rows int64) error {
	if rows == 0 {
		return nil
	}
	return &rejectedError{rows}
}
