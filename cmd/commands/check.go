package commands

import (
	"io"

	"github.com/urfave/cli/v2"

	"plinth/pipeline/disk"
	"plinth/pipeline/plan"
	"plinth/pipeline/screen"
)

func checkCommand() *cli.Command {
	return &cli.Command{
		Name:      "check",
		Usage:     "read and clean only: what is wrong with the data, what would be assumed",
		ArgsUsage: "PLAN",
		Description: "Reads the register and the hazard of PLAN as a run would, looks up the hazard of every " +
			"building,\n" +
			"and prints a report of the data. A plan without [hazard] has its register alone checked. Writes no result. Exit code 1 if no building can be used.\n\n" +
			"Examples:\n" +
			"   plinth check demo/plan.toml\n" +
			"   plinth check --html check.html demo/plan.toml     the same as a page for the owner of the register",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "html",
				Usage: "also write the report as a page to `FILE`, which may replace such a page and nothing else"},
			tolerateFlag(),
			quietFlag(),
			&cli.BoolFlag{Name: "json", Usage: "print the report as JSON"},
		},
		OnUsageError: asUsage,
		Action: func(c *cli.Context) error {
			run, err := openRun(c, plan.LoadRegister)
			if err != nil {
				return err
			}
			if err := pageMay(c.String("html"), run); err != nil {
				return err
			}
			tolerated, err := tolerance(c, run.Plan())
			if err != nil {
				return err
			}
			check, err := screen.CheckRegister(c.Context, run)
			if err != nil {
				return err
			}
			write := check.Write
			switch {
			case c.Bool("quiet"):
				write = func(io.Writer) error { return nil }
			case c.Bool("json"):
				write = check.WriteJSON
			}
			if err := write(c.App.Writer); err != nil {
				return err
			}
			if path := c.String("html"); path != "" {
				if err := disk.Write(path, run.Plan().Output.FileMode(), check.WriteHTML); err != nil {
					return err
				}
			}
			return usable(check.Counts(), tolerated)
		},
	}
}
