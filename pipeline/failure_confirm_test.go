package pipeline

import (
	"fmt"
	"path/filepath"
	"plinth/hazard"
	"plinth/hazard/motion"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/plan"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A building that fails in its time histories has one row that says so; the others are
// confirmed as they are beside it.
func TestFailureInTimeHistories(t *testing.T) {
	dir := town.New(t, 30)
	r := sound(t, faultyRun(t, dir, faulty, func(p *plan.Plan) {
		p.Confirm.Shortlist, p.Confirm.Records, p.Confirm.Measures = 3, 2, 1
	}))
	s := Settings{Replace: true}
	list, _, err := r.shortlist(t.Context(), s, t.TempDir(), 3)
	require.NoError(t, err)
	suites, err := r.openSuites()
	require.NoError(t, err)
	confirmed := func(suites suiteMaker) []confirmed {
		kept := openKeep(filepath.Join(t.TempDir(), "kept"), "key", 0o600)
		all, err := r.confirmAll(t.Context(), s, list, suites, kept)
		require.NoError(t, err)
		return all
	}
	want := confirmed(suites)
	a, err := r.AssessOne(t.Context(), list[1].building.ID)
	require.NoError(t, err)
	at := a.Site.Spectra[r.Design()]
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
	assert.Contains(t, row.Status, SolverFailed)
	ranked := rankConfirmed(got)
	assert.Equal(t, int64(3), ranked[len(want[0].rows)].RankHistory, "last")
}
