package screen

import (
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/confidence"
	"plinth/pipeline/internal/trial"
)

// Rows and draws of every legal plan, building and hazard are made without a failure.
func TestLegalExtremesGiveRows(t *testing.T) {
	trial.EachLegal(t, 1000, func(t *trial.Case, a *assess.Assessment, _ int) {
		var rows memory
		w := newRowWriter(a.Study(), "buildings.csv", Outlets{&rows, &rows, &rows, &rows}, new(assess.Counts))
		require.NoError(t, w.Visit(a.Building))
		require.EqualValues(t, 1, w.counts.Out.Load(), "%s: %s", w.refused.Rule, w.refused.RawValue)
		set := a.Study().DrawSettings()
		sampler := sampler{study: a.Study(), set: &set, sensitivity: a.Study().NewSensitivity()}
		sampler.draw = confidence.NewSampler(confidence.NewDraws(set))
		var d assess.Digest
		a.Digest(&d)
		require.NoError(t, sampler.sampled(&d))
	})
}
