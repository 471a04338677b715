package commands

import (
	"github.com/urfave/cli/v2"

	"plinth/pipeline"
	"plinth/pipeline/plan"
	"plinth/pipeline/sheet"
)

func explainCommand() *cli.Command {
	return &cli.Command{
		Name:      "explain",
		Usage:     "print the calculation of one building",
		ArgsUsage: "PLAN ID",
		Description: "Prints every number of the building called ID in the register of PLAN, with its formula, the source\n" +
			"of the formula, its inputs, and whether each was given, derived or assumed.\n\n" +
			"Examples:\n" +
			"   plinth explain demo/plan.toml CS-00001\n" +
			"   plinth explain demo/plan.toml CS-00011 > town-hall-annexe.txt",
		OnUsageError: asUsage,
		Action: func(c *cli.Context) error {
			args, err := arguments(c, "PLAN", "ID")
			if err != nil {
				return err
			}
			p, err := plan.Load(args[0])
			if err != nil {
				return err
			}
			run, err := pipeline.Open(p)
			if err != nil {
				return err
			}
			a, err := run.AssessOne(c.Context, args[1])
			if err != nil {
				return err
			}
			return sheet.Make(run, a).Write(c.App.Writer)
		},
	}
}
