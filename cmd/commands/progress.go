package commands

import (
	"os"
	"sync"
	"time"

	"github.com/schollz/progressbar/v3"
	"github.com/urfave/cli/v2"
	"golang.org/x/term"
)

// A progress shows on a terminal how far a run has come and how long it will take. It shows nothing
// elsewhere or with --quiet. It has no colours.
type progress struct {
	terminal *os.File // nil for none

	mu    sync.Mutex
	stage string
	bar   *progressbar.ProgressBar
}

func newProgress(c *cli.Context) *progress {
	f, ok := c.App.ErrWriter.(*os.File)
	if !ok || c.Bool("quiet") || !term.IsTerminal(int(f.Fd())) {
		return &progress{}
	}
	return &progress{terminal: f}
}

// tell shows that done of about total items of a stage are done; total is 0 if it is not known. Any
// goroutine may call it. A bar that cannot be drawn does not fail the run.
func (p *progress) tell(stage string, done, total int64) {
	if p.terminal == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.bar == nil || p.stage != stage {
		if p.bar != nil {
			p.bar.Finish()
		}
		p.stage, p.bar = stage, newBar(p.terminal, stage)
	}
	if total > 0 { // an estimate, which must not end the bar early
		p.bar.ChangeMax64(max(total, done+1))
	}
	p.bar.Set64(done)
}

func newBar(to *os.File, stage string) *progressbar.ProgressBar {
	return progressbar.NewOptions64(-1, // until it is known
		progressbar.OptionSetWriter(to),
		progressbar.OptionSetDescription(stage),
		progressbar.OptionShowCount(),
		progressbar.OptionShowIts(),
		progressbar.OptionSetPredictTime(true),
		progressbar.OptionThrottle(100*time.Millisecond),
		progressbar.OptionClearOnFinish(),
	)
}

func (p *progress) done() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.bar != nil {
		p.bar.Finish()
	}
}
