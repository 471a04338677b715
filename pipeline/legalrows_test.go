package pipeline

import (
	"plinth/pipeline/confidence"
	"testing"

	"github.com/stretchr/testify/require"
)

// Rows and draws of every legal plan, building and hazard are made without a failure.
func TestLegalExtremesGiveRows(t *testing.T) {
	eachLegal(t, 1000, func(t *lot, a *Assessment, _ int) {
		var rows memory
		w := a.Run().rowWriter("buildings.csv", Outlets{&rows, &rows, &rows, &rows}, new(Counts))
		require.NoError(t, w.visit(a.Building))
		require.EqualValues(t, 1, w.counts.Out.Load(), "%s: %s", w.refused.Rule, w.refused.RawValue)
		set := a.Run().DrawSettings()
		sampler := sampler{run: a.Run(), set: &set, base: a, responder: a.Run().newResponder()}
		sampler.draw = confidence.NewSampler(confidence.NewDraws(set))
		require.NoError(t, sampler.sampled(a.Building))
	})
}
