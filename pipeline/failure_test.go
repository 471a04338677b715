package pipeline

import (
	"plinth/pipeline/internal/town"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a failure leaves in the scratch space of a worker does not reach the building
// after it.
func TestScratchSpaceIsNewAfterAFailure(t *testing.T) {
	r := faultyRun(t, town.New(t, 20), faulty, nil)
	one, err := sound(t, r).AssessOne(t.Context(), faulty)
	require.NoError(t, err)
	failing := one.Building
	a := r.NewAssessment()
	next, err := r.AssessOne(t.Context(), "CS-00003")
	require.NoError(t, err)
	var failed *FailedError
	bad := *next.Building
	bad.ID, bad.Lon, bad.Lat = faulty, failing.Lon, failing.Lat
	require.NoError(t, a.Assess(next.Building))
	require.ErrorAs(t, a.Assess(&bad), &failed)
	assert.Empty(t, a.Site.Spectra)
	require.NoError(t, a.Assess(next.Building))
	assert.Equal(t, next.Before, a.Before)
	assert.Equal(t, next.Choice, a.Choice)
}
