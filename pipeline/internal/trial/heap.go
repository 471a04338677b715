package trial

import (
	"runtime"
	"sync/atomic"
	"testing"
	"time"
)

// PeakHeap runs f as often as b asks and returns the largest heap in use after a collection, less
// what was there before: what f holds, not what it leaves as garbage.
func PeakHeap(b *testing.B, f func()) uint64 {
	live := func() uint64 {
		var m runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	var done atomic.Bool
	before, peak := live(), make(chan uint64)
	go func() {
		var most uint64
		for !done.Load() {
			most = max(most, live())
			time.Sleep(20 * time.Millisecond)
		}
		peak <- most
	}()
	for b.Loop() {
		f()
	}
	done.Store(true)
	if most := <-peak; most > before {
		return most - before
	}
	return 0
}
