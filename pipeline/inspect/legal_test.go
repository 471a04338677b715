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
		seeker := worthFinder{study: a.Study(), base: a, then: a.Study().NewAssessment()}
		require.NoError(t, seeker.fields(a.Building))
	})
}
