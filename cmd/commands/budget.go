package commands

import (
	"fmt"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"plinth/pipeline"
)

func budgetCommand() *cli.Command {
	return &cli.Command{
		Name:      "budget",
		Usage:     "choose what to do under a budget, year by year",
		ArgsUsage: "PLAN",
		Description: "Chooses at most one measure a building under the money and the terms of [budget] in PLAN, puts the\n" +
			"works into years, and writes programme.csv and frontier.svg to the folder budget within the plan's\n" +
			"output folder. Says how far any other programme could be better, and what the next money would buy.\n\n" +
			"Examples:\n" +
			"   plinth budget demo/plan.toml\n" +
			"   plinth budget --force --workers 1 demo/plan.toml     over an earlier run, on one processor",
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
			out, err := run.Budget(c.Context, pipeline.Settings{Version: Version, Workers: c.Int("workers"), Replace: c.Bool("force")})
			if err != nil {
				return err
			}
			if !c.Bool("quiet") {
				if err := out.Write(c.App.Writer); err != nil {
					return err
				}
				fmt.Fprintf(c.App.Writer, "\nResults are in %s\n", filepath.Join(run.Plan().Output.Folder, "budget"))
			}
			return rejected(out.Counts.Rejected)
		},
	}
}
