package assess

import "sync/atomic"

// A Progress is called, by any goroutine, with the name of a stage such as buildings, the
// number done and the approximate total, 0 if unknown.
type Progress func(stage string, done, total int64)

// Watch returns a Watch that reports the rows of a register to p.
func (p Progress) Watch(stage string) Watch {
	if p == nil {
		return Watch{}
	}
	var done, total atomic.Int64
	return Watch{
		Done:   func(rows int) { p(stage, done.Add(int64(rows)), total.Load()) },
		Expect: total.Store,
	}
}

// Count returns a function that reports to p that one more of n is done.
func (p Progress) Count(stage string, n int) func() {
	if p == nil {
		return func() {}
	}
	var done atomic.Int64
	return func() { p(stage, done.Add(1), int64(n)) }
}
