package commands

import (
	"fmt"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"plinth/pipeline"
)

func inspectCommand() *cli.Command {
	return &cli.Command{
		Name:      "inspect",
		Usage:     "what to go and find out next",
		ArgsUsage: "PLAN",
		Description: "For every field of every building in PLAN that nobody has given: how likely knowing it changes the\n" +
			"best measure or moves the building across the budget line, and what that is worth. Writes inspect.csv\n" +
			"to the folder inspect within the plan's output folder, with visits to neighbouring buildings.\n\n" +
			"Examples:\n" +
			"   plinth inspect demo/plan.toml\n" +
			"   plinth inspect --force --quiet demo/plan.toml     over an earlier run, without a word",
		Flags: []cli.Flag{
			&cli.IntFlag{Name: "workers", Usage: "assess on `N` processors (0: all); changes no byte of the results"},
			&cli.BoolFlag{Name: "force", Usage: "write over another run in the folder"},
			&cli.BoolFlag{Name: "quiet", Usage: "print nothing but errors"},
		},
		OnUsageError: asUsage,
		Action: func(c *cli.Context) error {
			run, err := openRun(c)
			if err != nil {
				return err
			}
			if c.Int("workers") < 0 {
				return &usageError{fmt.Errorf("--workers cannot be negative")}
			}
			out, err := run.Inspect(c.Context, pipeline.Settings{Version: Version, Workers: c.Int("workers"), Replace: c.Bool("force")})
			if err != nil {
				return err
			}
			if !c.Bool("quiet") {
				if err := out.Write(c.App.Writer); err != nil {
					return err
				}
				fmt.Fprintf(c.App.Writer, "\nResults are in %s\n", filepath.Join(run.Plan().Output.Folder, "inspect"))
			}
			return rejected(out.Counts.Rejected)
		},
	}
}
