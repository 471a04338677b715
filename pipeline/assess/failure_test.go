package assess_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/internal/trial"
)

// What a failure leaves in the scratch space of a worker does not reach the building
// after it.
func TestScratchSpaceIsNewAfterAFailure(t *testing.T) {
	study := trial.Faulty(t, town.New(t, 20), trial.FaultyID, nil)
	one, err := trial.Sound(t, study).AssessOne(t.Context(), trial.FaultyID)
	require.NoError(t, err)
	failing := one.Building
	a := study.NewAssessment()
	next, err := study.AssessOne(t.Context(), "CS-00003")
	require.NoError(t, err)
	var failed *assess.FailedError
	bad := *next.Building
	bad.ID, bad.Lon, bad.Lat = trial.FaultyID, failing.Lon, failing.Lat
	require.NoError(t, a.Assess(next.Building))
	require.ErrorAs(t, a.Assess(&bad), &failed)
	assert.Empty(t, a.Site.Spectra)
	require.NoError(t, a.Assess(next.Building))
	assert.Equal(t, next.Before, a.Before)
	assert.Equal(t, next.Choice, a.Choice)
}
