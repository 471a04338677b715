package commands

import (
	"os"
	"runtime/debug"

	"plinth/pipeline/ranking"
)

// memoryLimit is what the collector keeps the process below where it can, with
// sorters of the usual size: a stock of 10 million buildings then stays within 2 GiB.
const memoryLimit = 1536 << 20

// boundMemory sets the limit for a run whose sorters may take so many bytes, 0 for
// the usual. GOMEMLIMIT in the environment goes before it. The share of garbage at
// which the collector works is left alone: it takes about a hundredth of the time.
func boundMemory(sorters int64) {
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(memoryLimit + max(0, sorters-ranking.DefaultMemory))
	}
}
