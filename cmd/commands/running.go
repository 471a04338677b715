package commands

import (
	"fmt"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"plinth/pipeline"
	"plinth/pipeline/plan"
)

// running returns a command that runs a plan and writes files: the flags, the checks
// and the opening that all of them share. act does the run and prints what it found
// unless the command is quiet; more are flags of its own.
func running(name, usage, description string, act func(c *cli.Context, run *pipeline.Run, s pipeline.Settings) error, more ...cli.Flag) *cli.Command {
	return &cli.Command{
		Name: name, Usage: usage, ArgsUsage: "PLAN", Description: description,
		Flags: append([]cli.Flag{
			&cli.IntFlag{Name: "workers", Usage: "assess on `N` processors (0: all); changes no byte of the results"},
			&cli.IntFlag{Name: "memory", Usage: "sort within `MB` megabytes before going to disk (0: 256)"},
			&cli.BoolFlag{Name: "force", Usage: "write over another run in the folder"},
			quietFlag(),
		}, more...),
		OnUsageError: asUsage,
		Action: func(c *cli.Context) error {
			if c.Int("workers") < 0 || c.Int("memory") < 0 {
				return &usageError{fmt.Errorf("--workers and --memory cannot be negative")}
			}
			if c.Bool("resume") && c.Bool("force") {
				return &usageError{fmt.Errorf("--resume goes on with a run and --force begins one anew: give one of them")}
			}
			run, err := openRun(c)
			if err != nil {
				return err
			}
			bar := newProgress(c)
			defer bar.done()
			return act(c, run, pipeline.Settings{
				Version: Version, Workers: c.Int("workers"), Memory: int64(c.Int("memory")) << 20,
				Replace: c.Bool("force"), Resume: c.Bool("resume"), Checkpoint: c.Int64("checkpoint"), Progress: bar.rows,
			})
		},
	}
}

// quietFlag silences everything but errors.
func quietFlag() cli.Flag { return &cli.BoolFlag{Name: "quiet", Usage: "print nothing but errors"} }

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

// where says in which folder of the plan's output the results are.
func where(c *cli.Context, run *pipeline.Run, folder string) {
	fmt.Fprintf(c.App.Writer, "\nResults are in %s\n", filepath.Join(run.Plan().Output.Folder, folder))
}

// rejected returns the error that carries the exit code of a run with so many
// rejected rows, nil for none.
func rejected(rows int64) error {
	if rows == 0 {
		return nil
	}
	return &rejectedError{rows}
}
