package commands

import (
	"context"

	"github.com/urfave/cli/v2"

	"plinth/pipeline/assess"
	"plinth/pipeline/budget"
)

func budgetCommand() *cli.Command {
	return running("budget", "choose what to do under a budget, year by year",
		"Chooses at most one measure a building under the money and the terms of [budget] in PLAN, puts the\n"+
			"works into years, and writes programme.csv and frontier.svg to the folder budget within the plan's\n"+
			"output folder. Says how far any other programme could be better, and what the next money would buy.\n"+
			"It starts from what `plinth screen` left there, and asks for another screening where PLAN (apart\n"+
			"from its budget) or an input has changed since.\n\n"+
			"Examples:\n"+
			"   plinth budget demo/plan.toml\n"+
			"   plinth budget --force --workers 1 demo/plan.toml     over an earlier run, on one processor",
		func(ctx context.Context, run *assess.Study, s assess.Settings) (finding, error) {
			out, err := budget.Choose(ctx, run, s)
			if err != nil {
				return finding{}, err
			}
			return finding{folder: "budget", counts: out.Counts, write: out.Write}, nil
		})
}
