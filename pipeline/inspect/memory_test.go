package inspect

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/trial"
	"plinth/pipeline/plan"
)

// BenchmarkInspect finds the worth of knowing for stocks of several sizes; B/building is the
// largest heap, garbage left out, that a building adds. The sorter of the rows has 4 MB.
func BenchmarkInspect(b *testing.B) {
	for _, n := range []int{1000, 4000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			study := screened(b, trial.Open(b, n, func(p *plan.Plan) {
				p.Uncertainty.Draws, p.Output.Formats = 0, []string{"csv"}
			}))
			b.ReportAllocs()
			peak := trial.PeakHeap(b, func() {
				_, err := Find(b.Context(), study, assess.Settings{Replace: true, Memory: 4 << 20})
				require.NoError(b, err)
			})
			b.ReportMetric(float64(peak)/float64(n), "B/building")
			b.ReportMetric(float64(peak)/1e6, "MB")
		})
	}
}
