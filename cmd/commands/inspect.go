package commands

import (
	"context"

	"github.com/urfave/cli/v2"

	"plinth/pipeline/assess"
	"plinth/pipeline/inspect"
)

func inspectCommand() *cli.Command {
	return running("inspect", "what to go and find out next",
		"For every field of every building in PLAN that nobody has given: how likely knowing it changes the\n"+
			"best measure or moves the building across the budget line, and what that is worth. Writes inspect.csv\n"+
			"to the folder inspect within the plan's output folder, with visits to neighbouring buildings.\n"+
			"It starts from what `plinth screen` left there, and asks for another screening where PLAN or an\n"+
			"input has changed since.\n\n"+
			"Examples:\n"+
			"   plinth inspect demo/plan.toml\n"+
			"   plinth inspect --force --quiet demo/plan.toml     over an earlier run, without a word",
		func(ctx context.Context, run *assess.Study, s assess.Settings) (finding, error) {
			out, err := inspect.Find(ctx, run, s)
			if err != nil {
				return finding{}, err
			}
			return finding{folder: "inspect", counts: out.Counts, write: out.Write}, nil
		})
}
