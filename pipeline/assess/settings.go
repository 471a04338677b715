package assess

import "runtime"

// Settings come from the command line, not from the plan. Nothing in them changes a byte of
// the results.
type Settings struct {
	Version    string   // of the program, for the manifest
	Workers    int      // 0 for one a processor
	Memory     int64    // bytes of the sorters, 0 for their default
	Replace    bool     // write over another run in the output folder
	Here       bool     // the output folder may be that of the plan, the home folder or the root
	Resume     bool     // go on with a screening that was ended early, if there is one
	Checkpoint int64    // rows of a screening between two checkpoints, 0 for 100,000, below 0 for none
	Progress   Progress // may be nil
}

// Goroutines returns the number of workers.
func (s *Settings) Goroutines() int {
	if s.Workers > 0 {
		return s.Workers
	}
	return runtime.GOMAXPROCS(0)
}
