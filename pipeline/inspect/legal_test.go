package inspect

import (
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/trial"
)

// What is worth knowing of every legal building under every legal plan can be said.
func TestLegalExtremesCanBeInspected(t *testing.T) {
	if testing.Short() {
		t.Skip("many stocks")
	}
	trial.EachLegal(t, 1000, func(t *trial.Case, a *assess.Assessment, _ int) {
		var d assess.Digest
		a.Digest(&d)
		finder := worthFinder{study: a.Study(), then: a.Study().NewAssessment()}
		require.NoError(t, finder.fields(&d))
	})
}
