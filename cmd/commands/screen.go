package commands

import (
	"github.com/urfave/cli/v2"

	"plinth/pipeline"
)

func screenCommand() *cli.Command {
	return running("screen", "run a plan: read, assess, rank, write",
		"Reads the register and the hazard of PLAN, assesses every building as it stands and with each\n"+
			"measure, and writes ranked lists to the plan's output folder, all files or none.\n\n"+
			"Examples:\n"+
			"   plinth screen demo/plan.toml\n"+
			"   plinth screen --force --workers 1 demo/plan.toml     over an earlier run, on one processor",
		func(c *cli.Context, run *pipeline.Run, s pipeline.Settings) error {
			res, err := run.Screen(c.Context, s)
			if err != nil {
				return err
			}
			if !c.Bool("quiet") {
				if err := res.Summary.Write(c.App.Writer); err != nil {
					return err
				}
				where(c, run, "")
			}
			return rejected(res.Summary.Counts.Rejected)
		})
}
