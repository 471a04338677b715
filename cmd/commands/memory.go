package commands

import (
	"os"
	"runtime/debug"

	"plinth/pipeline/extsort"
)

// memoryLimit is what the collector keeps the process below where it can, with
// sorters of the usual size: what a stock needs beyond them, some 60 bytes a building
// for its ids and places and 50 for its orders, leaves room in it for 10 million.
const memoryLimit = 1536 << 20

// boundMemory sets the limit for a run whose sorters may take so many bytes, 0 for
// the usual. GOMEMLIMIT in the environment goes before it. The share of garbage at
// which the collector works is left alone: four times as much saves a twentieth of the
// processor's time at most, as measured with 10,000 buildings.
func boundMemory(sorters int64) {
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(memoryLimit + max(0, sorters-extsort.DefaultMemory))
	}
}
