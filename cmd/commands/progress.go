package commands

import (
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"github.com/urfave/cli/v2"
	"golang.org/x/term"
)

// A progress shows on a terminal how many rows have gone through. Elsewhere, and
// with --quiet, it shows nothing.
type progress struct{ bar *progressbar.ProgressBar }

func newProgress(c *cli.Context) *progress {
	f, ok := c.App.ErrWriter.(*os.File)
	if !ok || c.Bool("quiet") || !term.IsTerminal(int(f.Fd())) {
		return &progress{}
	}
	return &progress{progressbar.NewOptions64(-1, // how many there will be is not known
		progressbar.OptionSetWriter(f),
		progressbar.OptionSetDescription("buildings"),
		progressbar.OptionShowCount(),
		progressbar.OptionShowIts(),
		progressbar.OptionThrottle(100*time.Millisecond),
		progressbar.OptionClearOnFinish(),
	)}
}

// rows says that so many rows have gone through. It may be called from any
// goroutine.
func (p *progress) rows(n int64) {
	if p.bar != nil {
		p.bar.Set64(n) // a progress bar that cannot be drawn is no failure of the run
	}
}

func (p *progress) done() {
	if p.bar != nil {
		p.bar.Finish()
	}
}
