package assess

import "sync/atomic"

// A Progress is told how far a run has come: of a stage, such as buildings, so many are
// done of about so many, 0 where that is not known. It is called by any goroutine.
type Progress func(stage string, done, total int64)

// Watch returns a watch that tells p of the rows of a register.
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

// Count returns a function that tells p of one more of n.
func (p Progress) Count(stage string, n int) func() {
	if p == nil {
		return func() {}
	}
	var done atomic.Int64
	return func() { p(stage, done.Add(1), int64(n)) }
}
