package retrofit

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func BenchmarkEvaluate(b *testing.B) {
	c := steelFrame.build(b) // 8 storeys, 8 levels
	for _, m := range every() {
		b.Run(m.Slug(), func(b *testing.B) {
			var w Work
			var out Outcome
			m.Evaluate(&w, c, &out)
			b.ReportAllocs()
			for b.Loop() {
				m.Evaluate(&w, c, &out)
			}
		})
	}
}

// A used Outcome and Work serve the next building without a new allocation, and
// so does the reason in a buffer of its own.
func TestEvaluateAllocatesNothing(t *testing.T) {
	c := concreteFrame.build(t)
	for _, m := range every() {
		var w Work
		var out Outcome
		line := make([]byte, 0, 1024)
		m.Evaluate(&w, c, &out)
		assert.Zero(t, testing.AllocsPerRun(5, func() {
			m.Evaluate(&w, c, &out)
			line = out.AppendReason(line[:0])
		}), m.Slug())
	}
}
