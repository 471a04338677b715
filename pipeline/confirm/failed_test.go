package confirm

import (
	"fmt"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
	"plinth/hazard/motion"
	"plinth/pipeline/assess"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/internal/trial"
	"plinth/pipeline/plan"
)

// A building that fails in its time histories has one row that says so; the others are
// confirmed as they are beside it.
func TestFailureInTimeHistories(t *testing.T) {
	dir := town.New(t, 30)
	study := trial.Sound(t, trial.Faulty(t, dir, trial.FaultyID, func(p *plan.Plan) {
		p.Confirm.Shortlist, p.Confirm.Records, p.Confirm.Measures = 3, 2, 1
	}))
	s := assess.Settings{Replace: true}
	list, _, err := shortlist(t.Context(), study, s, t.TempDir(), 3)
	require.NoError(t, err)
	suites, err := openSuites(study)
	require.NoError(t, err)
	confirmed := func(suites suiteMaker) []result {
		kept := openResumeFile(filepath.Join(t.TempDir(), "kept"), "key", 0o600)
		all, err := runAll(t.Context(), study, s, list, suites, kept)
		require.NoError(t, err)
		return all
	}
	want := confirmed(suites)
	a, err := study.AssessOne(t.Context(), list[1].building.ID)
	require.NoError(t, err)
	at := a.Site.Spectra[study.Design()]
	got := confirmed(func(target *hazard.Spectrum, period float64) (*motion.Suite, error) {
		if target.PGA == at.PGA && target.TC == at.TC {
			panic("no records")
		}
		return suites(target, period)
	})
	assert.Equal(t, fmt.Sprint(want[0]), fmt.Sprint(got[0])) // as text, for what is not a number
	assert.Equal(t, fmt.Sprint(want[2]), fmt.Sprint(got[2]))
	require.Len(t, got[1].rows, 1)
	row := got[1].rows[0]
	assert.Equal(t, list[1].building.ID, row.BuildingID)
	assert.Contains(t, row.Status, assess.SolverFailed)
	ranked := rankResults(got)
	assert.Equal(t, int64(3), ranked[len(want[0].rows)].RankHistory, "last")
}
