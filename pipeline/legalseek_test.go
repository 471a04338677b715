package pipeline

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// What is worth knowing of every legal building under every legal plan can be said.
func TestLegalExtremesCanBeInspected(t *testing.T) {
	eachLegal(t, 1000, func(t *lot, a *Assessment, _ int) {
		seeker := seeker{run: a.Run(), base: a, then: a.Run().NewAssessment()}
		require.NoError(t, seeker.seek(a.Building))
	})
}
