package trial

import (
	"runtime"
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
	before, done, peak := live(), make(chan struct{}), make(chan uint64)
	go func() {
		var most uint64
		for {
			select {
			case <-done:
				peak <- most
				return
			case <-time.After(20 * time.Millisecond):
				most = max(most, live())
			}
		}
	}()
	for b.Loop() {
		f()
	}
	close(done)
	if most := <-peak; most > before {
		return most - before
	}
	return 0
}
