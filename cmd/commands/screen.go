package commands

import (
	"context"
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"plinth/pipeline/assess"
	"plinth/pipeline/screen"
)

func screenCommand() *cli.Command {
	return running("screen", "run a plan: read, assess, rank, write",
		"Reads the register and the hazard of PLAN, assesses every building as it stands and with each\n"+
			"measure, and writes ranked lists to the plan's output folder, all files or none. A large run that\n"+
			"is ended early, even by a power cut, can be gone on with and gives the same files.\n\n"+
			"Examples:\n"+
			"   plinth screen demo/plan.toml\n"+
			"   plinth screen --force --workers 1 demo/plan.toml     over an earlier run, on one processor\n"+
			"   plinth screen --resume big/plan.toml                 go on with a run that was ended early",
		func(ctx context.Context, run *assess.Study, s assess.Settings) (finding, error) {
			res, err := screen.Stock(ctx, run, s)
			if err != nil {
				return finding{}, err
			}
			return finding{counts: res.Summary.Counts, write: res.Summary.Write, took: took(res)}, nil
		},
		&cli.BoolFlag{Name: "resume", Usage: "go on with a run that was ended early; begin if there is none"},
		&cli.Int64Flag{Name: "checkpoint",
			Usage: "keep what is done every `N` rows (0: 100000; -1: never); changes no byte of the results"},
	)
}

// took returns a sentence on the time and the memory that the run took.
func took(res *screen.Result) string {
	var b strings.Builder
	if res.Resumed > 0 {
		fmt.Fprintf(&b, "went on from row %d of an earlier run\n", res.Resumed)
	}
	if peak := peakMemory(); peak > 0 {
		fmt.Fprintf(&b, "peak memory %d MB\n", peak>>20)
	}
	return b.String()
}
