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
	return OpenIn(t, town.New(t, n), change)
}

// OpenIn opens the demo in dir with a change to its plan.
func OpenIn(t testing.TB, dir string, change func(*plan.Plan)) *assess.Study {
	t.Helper()
	study, err := assess.Open(town.Plan(t, dir, change))
	require.NoError(t, err)
	return study
}
