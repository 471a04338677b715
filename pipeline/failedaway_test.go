package pipeline

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
	"plinth/hazard/motion"
	"plinth/pipeline/output"
	"plinth/pipeline/plan"
	"plinth/retrofit"
)

// A faultyMeasure has a mistake in it: it panics for one building where its period is not
// the one that is described.
type faultyMeasure struct {
	retrofit.Measure
	area, period float64
}

func (m faultyMeasure) Evaluate(w *retrofit.Work, c *retrofit.Case, out *retrofit.Outcome) {
	if c.Facts.FloorArea == m.area && c.Stick.Modes.Period[0] != m.period {
		panic("retrofit: no such period")
	}
	m.Measure.Evaluate(w, c, out)
}

// faultyAway opens the demo in dir with measures that panic for one building away from
// its description.
func faultyAway(t testing.TB, dir, id string, change func(*plan.Plan)) *Run {
	r := faultyRun(t, dir, id, change)
	r.field = r.field.(faultyField).Field
	a, err := r.AssessOne(t.Context(), id)
	require.NoError(t, err)
	for i, m := range r.measures {
		r.measures[i] = faultyMeasure{m, a.Case.Facts.FloorArea, a.Stick.Modes.Period[0]}
	}
	return r
}

// A building that is screened and then fails away from its medians keeps its row. It has
// no interval of ranks, and row and manifest say why; the others have theirs.
func TestFailureInDraws(t *testing.T) {
	dir := town(t, 40)
	r := faultyAway(t, dir, faulty, func(p *plan.Plan) { p.Uncertainty.Draws = 19 })
	res, err := r.Screen(t.Context(), Settings{Replace: true})
	require.NoError(t, err)
	require.Equal(t, res.Summary.Counts.In, res.Summary.Counts.Out+res.Summary.Counts.Rejected)
	got := files(t, dir)
	for _, row := range rows(t, got["buildings.csv"]) {
		failed := row["building_id"] == faulty
		assert.Equal(t, failed, row["rank_low"] == "", row["building_id"])
		assert.Equal(t, failed, strings.Contains(row["solver_status"], "no interval of ranks"), row["building_id"])
	}
	var m output.Manifest
	require.NoError(t, json.Unmarshal(got[output.ManifestName], &m))
	assert.Contains(t, m.Notes[len(m.Notes)-1], "Of 1 building there is no interval of ranks")
	assert.Contains(t, m.Notes[len(m.Notes)-1], faulty)
}

// What is worth knowing of a building that fails away from what is assumed cannot be
// said, and the search says so.
func TestFailureInInspect(t *testing.T) {
	dir := town(t, 40)
	r := faultyAway(t, dir, faulty, nil)
	search, err := r.Inspect(t.Context(), Settings{Replace: true})
	require.NoError(t, err)
	assert.Equal(t, []string{faulty}, search.Failed)
	for _, row := range search.Rows {
		assert.NotEqual(t, faulty, row.ID)
	}
	assert.NotEmpty(t, search.Rows)
	var text bytes.Buffer
	require.NoError(t, search.Write(&text))
	assert.Contains(t, text.String(), faulty)
	manifest, err := os.ReadFile(filepath.Join(dir, "out", "inspect", output.ManifestName))
	require.NoError(t, err)
	assert.Contains(t, string(manifest), faulty)
}

// A building that fails in its time histories has one row that says so; the others are
// confirmed as they are beside it.
func TestFailureInTimeHistories(t *testing.T) {
	dir := town(t, 30)
	r := faultyRun(t, dir, faulty, func(p *plan.Plan) {
		p.Confirm.Shortlist, p.Confirm.Records, p.Confirm.Measures = 3, 2, 1
	})
	r.field = r.field.(faultyField).Field
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
	at := a.Site.Spectra[r.design]
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
