package commands

import (
	"fmt"
	"io"

	"github.com/urfave/cli/v2"

	"plinth/pipeline"
	"plinth/pipeline/disk"
	"plinth/pipeline/output"
	"plinth/pipeline/plan"
	"plinth/pipeline/sheet"
)

func explainCommand() *cli.Command {
	return &cli.Command{
		Name:      "explain",
		Usage:     "print the calculation of one building",
		ArgsUsage: "PLAN ID",
		Description: "Prints every number of the building called ID in the register of PLAN, with its formula, " +
			"the source\n" +
			"of the formula, its inputs, and whether each was given, derived or assumed: enough to redo the sums.\n" +
			"The name of a building will do for ID where no other has it.\n\n" +
			"Examples:\n" +
			"   plinth explain demo/plan.toml CS-00001\n" +
			"   plinth explain demo/plan.toml \"Town Hall\"                          by its name\n" +
			"   plinth explain --html town-hall.html demo/plan.toml CS-00010      the same as a page to print",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "html",
				Usage: "also write the sheet as a page to `FILE`, which may replace such a page and nothing else"},
			&cli.StringFlag{Name: "markdown",
				Usage: "also write the sheet as Markdown to `FILE`, which may replace such a sheet and nothing else"},
			quietFlag(),
		},
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
			for _, path := range []string{c.String("html"), c.String("markdown")} {
				if err := pageMay(path, run); err != nil {
					return err
				}
			}
			if a, b := c.String("html"), c.String("markdown"); a != "" &&
				output.MayReplace(a, []string{b}, true) != nil && b != "" {
				return &usageError{fmt.Errorf("--html and --markdown name the same file; give each its own")}
			}
			a, err := run.AssessOne(c.Context, args[1])
			if err != nil {
				return err
			}
			s := sheet.Make(run, a)
			for _, also := range []struct {
				flag  string
				write func(io.Writer) error
			}{{"html", s.WriteHTML}, {"markdown", s.WriteMarkdown}} {
				if path := c.String(also.flag); path != "" {
					if err := disk.Write(path, p.Output.FileMode(), also.write); err != nil {
						return err
					}
				}
			}
			if c.Bool("quiet") {
				return nil
			}
			return s.WriteText(c.App.Writer)
		},
	}
}
