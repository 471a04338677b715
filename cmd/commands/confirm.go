package commands

import (
	"context"
	"fmt"
	"io"

	"github.com/urfave/cli/v2"

	"plinth/pipeline"
	"plinth/pipeline/output"
	"plinth/pipeline/page"
)

func confirmCommand() *cli.Command {
	return running("confirm", "check the foremost buildings and their best measures by time histories",
		"Screens the register of PLAN, takes the shortlist of its [confirm] table through nonlinear time\n"+
			"histories as it stands and with its best measures, says what changes, and writes confirm.parquet,\n"+
			"confirm.csv and confirm.html, one page with both methods side by side, pictures of the first\n"+
			"buildings and one that moves, to the folder confirm in the plan's output folder. One that is ended\n"+
			"early is gone on with when it is run again: what is done stands in confirm-unfinished until then.\n\n"+
			"Examples:\n"+
			"   plinth confirm demo/plan.toml\n"+
			"   plinth confirm --force --quiet demo/plan.toml        over an earlier confirmation",
		func(ctx context.Context, run *pipeline.Run, s pipeline.Settings) (finding, error) {
			res, err := run.Confirm(ctx, s)
			if err != nil {
				return finding{}, err
			}
			return finding{pipeline.ConfirmFolder, res.Counts.Rejected, func(to io.Writer) error { return writeConfirmation(to, res) }, ""}, nil
		})
}

// writeConfirmation prints a line a row: both methods and what changes.
func writeConfirmation(to io.Writer, res *pipeline.Confirmation) error {
	w := page.New(to)
	w.Wrap("", "Time histories (h) beside spectral values (s) at the design return period. ! marks a spectral value outside its stated band; c counts records that end in collapse.")
	w.Line("")
	w.Line("   %-22s %13s %14s %11s %3s", "measure", "drift % s, h", "floor g s, h", "place s, h", "c")
	id := ""
	for i := range res.Rows {
		r := &res.Rows[i]
		if r.BuildingID != id {
			id = r.BuildingID
			w.Wrap(fmt.Sprintf("%d  ", r.Rank), fmt.Sprintf("%s %s", r.BuildingID, r.BuildingName))
		}
		w.Line("   %-22s %6.2f %5.2f%s %7.2f %5.2f%s %5d %4d %4d", r.Measure, r.DriftSpectral, r.DriftHistory, mark(r.DriftOutside),
			r.AccelSpectral, r.AccelHistory, mark(r.AccelOutside), r.Place, r.PlaceHistory, r.Collapsed)
		if r.Moved != "" {
			w.Wrap("   moved: ", r.Moved)
		}
	}
	w.Line("")
	w.Wrap("", "Agreement of two models of a shear stick, not accuracy against reality.")
	w.Wrap("", output.Caution)
	return w.Flush()
}

func mark(outside bool) string {
	if outside {
		return "!"
	}
	return " "
}
