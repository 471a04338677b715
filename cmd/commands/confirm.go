package commands

import (
	"context"

	"github.com/urfave/cli/v2"

	"plinth/pipeline/assess"
	"plinth/pipeline/confirm"
)

func confirmCommand() *cli.Command {
	return running("confirm", "check the foremost buildings and their best measures by time histories",
		"Screens the register of PLAN, takes the shortlist of its [confirm] table through nonlinear time\n"+
			"histories as it stands and with its best measures, says which first choices hold, change or fall\n"+
			"away, and writes confirm.parquet,\n"+
			"confirm.csv and confirm.html, one page with both methods side by side, pictures of the first\n"+
			"buildings and one that moves, to the folder confirm in the plan's output folder. One that is ended\n"+
			"early is gone on with when it is run again: what is done stands in confirm-unfinished until then.\n\n"+
			"Examples:\n"+
			"   plinth confirm demo/plan.toml\n"+
			"   plinth confirm --force --quiet demo/plan.toml        over an earlier confirmation",
		func(ctx context.Context, run *assess.Study, s assess.Settings) (finding, error) {
			res, err := confirm.Shortlist(ctx, run, s)
			if err != nil {
				return finding{}, err
			}
			return finding{folder: confirm.Folder, counts: res.Counts, write: res.Write, all: res.Details}, nil
		}, &cli.BoolFlag{Name: "details", Usage: "print every value of both methods"})
}
