package commands

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"plinth/pipeline/assess"
	"plinth/pipeline/output"
	"plinth/pipeline/plan"
)

// A finding holds what a run reports at its end.
type finding struct {
	folder string // folder of its files within the plan's output folder
	counts output.Counts
	write  func(io.Writer) error
	all    func(io.Writer) error // instead of write with --details; nil where there is no more to say
	took   string                // time and memory; on stderr, since it differs from run to run
}

// running returns a command that runs a plan and writes files. The flags, the checks, the opening
// and the closing words are the same for all of them. act does the run; more holds flags of the
// command's own.
func running(name, usage, description string,
	act func(ctx context.Context, run *assess.Study, s assess.Settings) (finding, error),
	more ...cli.Flag) *cli.Command {
	return &cli.Command{
		Name: name, Usage: usage, ArgsUsage: "PLAN", Description: description,
		Flags: append([]cli.Flag{
			&cli.IntFlag{Name: "workers", Usage: "assess on `N` processors (0: all); changes no byte of the results"},
			&cli.IntFlag{Name: "memory", Usage: "sort within `MB` megabytes before going to disk (0: 256)"},
			&cli.BoolFlag{Name: "force",
				Usage: "write over another run in the folder, or results of this one that were changed; never over a " +
					"file that is read or is not of a run"},
			&cli.BoolFlag{Name: "here",
				Usage: "write to the folder of the plan, your home folder or the root, if the plan names it"},
			tolerateFlag(),
			quietFlag(),
			&cli.BoolFlag{Name: "json", Usage: "print the run's manifest as JSON instead of a summary"},
		}, more...),
		OnUsageError: asUsage,
		Action: func(c *cli.Context) error {
			if c.Int("workers") < 0 || c.Int("memory") < 0 {
				return &usageError{fmt.Errorf("--workers and --memory cannot be negative")}
			}
			if c.Bool("resume") && c.Bool("force") {
				return &usageError{fmt.Errorf("--resume goes on with a run and --force begins one anew: give one of " +
					"them")}
			}
			run, err := openRun(c, plan.Load)
			if err != nil {
				return err
			}
			tolerated, err := tolerance(c, run.Plan())
			if err != nil {
				return err
			}
			sorters := int64(c.Int("memory")) << 20
			boundMemory(sorters)
			bar := newProgress(c)
			defer bar.done()
			found, err := act(c.Context, run, assess.Settings{
				Version: Version, Workers: c.Int("workers"), Memory: sorters,
				Replace: c.Bool("force"), Here: c.Bool("here"), Resume: c.Bool("resume"),
				Checkpoint: c.Int64("checkpoint"), Progress: bar.tell,
			})
			if err != nil {
				return err
			}
			bar.done()
			if err := sayStale(c, run.Plan().Output.Folder); err != nil {
				return err
			}
			if err := say(c, filepath.Join(run.Plan().Output.Folder, found.folder), &found); err != nil {
				return err
			}
			return usable(found.counts, tolerated)
		},
	}
}

// quietFlag silences everything but errors.
func quietFlag() cli.Flag { return &cli.BoolFlag{Name: "quiet", Usage: "print nothing but errors"} }

// openRun loads the plan that is the command's argument by load and makes it ready.
func openRun(c *cli.Context, load func(path string) (*plan.Plan, error)) (*assess.Study, error) {
	args, err := arguments(c, "PLAN")
	if err != nil {
		return nil, err
	}
	p, err := load(args[0])
	if err != nil {
		return nil, err
	}
	return assess.Open(p)
}

// say prints what a run found and the place of its files: the summary, or the manifest with --json,
// or nothing with --quiet.
func say(c *cli.Context, folder string, found *finding) error {
	switch {
	case c.Bool("quiet"):
		return nil
	case c.Bool("json"):
		manifest, err := os.ReadFile(filepath.Join(folder, output.ManifestName))
		if err != nil {
			return err
		}
		_, err = c.App.Writer.Write(manifest)
		return err
	}
	write := found.write
	if c.Bool("details") {
		write = found.all
	}
	if err := write(c.App.Writer); err != nil {
		return err
	}
	if found.counts.Rejected > 0 && found.folder != "" { // a screening says so itself and lists them
		fmt.Fprintf(c.App.Writer, "\nRows of the register that were rejected: %d (`plinth check` says why).\n",
			found.counts.Rejected)
	}
	fmt.Fprintf(c.App.Writer, "\nResults are in %s\n", folder)
	_, err := io.WriteString(c.App.ErrWriter, found.took)
	return err
}

// sayStale warns of results in the output folder that do not belong to the run in it.
func sayStale(c *cli.Context, folder string) error {
	stale, _, err := output.FindStale(folder)
	for _, s := range stale {
		fmt.Fprintf(c.App.ErrWriter,
			"warning: %s is %s: do not read it with this run; run its command again, or move it away\n",
			filepath.Join(folder, s.Folder), s.Problem)
	}
	return err
}

// tolerateFlag returns the flag for the number of rejected rows that are tolerated.
func tolerateFlag() cli.Flag {
	return &cli.StringFlag{Name: "tolerate-rejects",
		Usage: "end with exit code 0 where no more than `N` rows, or a share such as 2%, were rejected (of the " +
			"plan if not given)"}
}

// tolerance returns the rejected rows that the command line tolerates, or else those of the plan.
func tolerance(c *cli.Context, p *plan.Plan) (plan.Tolerance, error) {
	if !c.IsSet("tolerate-rejects") {
		return plan.ParseTolerance(p.Inventory.Tolerate)
	}
	t, err := plan.ParseTolerance(c.String("tolerate-rejects"))
	if err != nil {
		return t, &usageError{fmt.Errorf("--tolerate-rejects: %w", err)}
	}
	return t, nil
}

// usable maps the counts of buildings and rejected rows to the error that sets the exit code. It
// returns nil if there are buildings and no more rejected rows than are tolerated.
func usable(n output.Counts, tolerated plan.Tolerance) error {
	switch {
	case n.Out == 0:
		return errors.New("no building of the register can be used; the report of `plinth check` says why")
	case !tolerated.Allows(n.Rejected, n.In):
		return &rejectedError{n, tolerated}
	}
	return nil
}
