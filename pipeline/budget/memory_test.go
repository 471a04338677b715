package budget

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/trial"
	"plinth/pipeline/plan"
)

// BenchmarkBudget chooses for stocks of several sizes; B/building is the largest heap, garbage
// left out, that a building adds.
func BenchmarkBudget(b *testing.B) {
	for _, n := range []int{2000, 8000, 32000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			study := screened(b, trial.Open(b, n, func(p *plan.Plan) {
				p.Uncertainty.Draws, p.Output.Formats = 0, []string{"csv"}
			}))
			b.ReportAllocs()
			peak := trial.PeakHeap(b, func() {
				_, err := Choose(b.Context(), study, assess.Settings{Replace: true})
				require.NoError(b, err)
			})
			b.ReportMetric(float64(peak)/float64(n), "B/building")
			b.ReportMetric(float64(peak)/1e6, "MB")
		})
	}
}
