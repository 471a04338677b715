package trial

import (
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/plan"
)

// Open opens the demo of n buildings with a change to its plan.
func Open(t testing.TB, n int, change func(*plan.Plan)) *assess.Study {
	t.Helper()
	study, err := assess.Open(town.Plan(t, town.New(t, n), change))
	require.NoError(t, err)
	return study
}
