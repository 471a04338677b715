package pipeline

import (
	"plinth/pipeline/internal/town"
	"plinth/pipeline/plan"
	"testing"

	"github.com/stretchr/testify/require"
)

// opened opens the demo of n buildings with a change to its plan.
func opened(t testing.TB, n int, change func(*plan.Plan)) *Run {
	t.Helper()
	r, err := Open(town.Plan(t, town.New(t, n), change))
	require.NoError(t, err)
	return r
}
