package pipeline

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/budget"
	"plinth/pipeline/confirm"
	"plinth/pipeline/inspect"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/internal/trial"
	"plinth/pipeline/plan"
	"plinth/pipeline/screen"
)

// Every way to a building ends in a sentence about that building.
func TestFailedBuildingInEveryCommand(t *testing.T) {
	dir := town.New(t, 60)
	study := trial.Faulty(t, dir, trial.FaultyID, func(p *plan.Plan) {
		p.Confirm.Shortlist, p.Confirm.Records, p.Confirm.Pictures = 2, 2, 1
	})
	s := assess.Settings{Replace: true}

	_, err := study.AssessOne(t.Context(), trial.FaultyID)
	require.ErrorContains(t, err, trial.FaultyID)
	require.ErrorContains(t, err, assess.SolverFailed)
	require.ErrorContains(t, err, "report it")

	c, err := screen.CheckRegister(t.Context(), study)
	require.NoError(t, err)
	assert.Equal(t, int64(1), c.Failed)
	assert.Equal(t, int64(c.Register.Tally.In), c.Usable()+c.Rejected())
	var text bytes.Buffer
	require.NoError(t, c.Write(&text))
	words := strings.Join(strings.Fields(text.String()), " ")
	assert.Contains(t, words, "1 building on which the program failed: line 3, CS-00002: "+assess.SolverFailed)

	_, err = screen.Stock(t.Context(), study, s)
	require.NoError(t, err)
	spending, err := budget.Choose(t.Context(), study, s)
	require.NoError(t, err)
	assert.Equal(t, spending.Counts.In, spending.Counts.Out+spending.Counts.Rejected)
	search, err := inspect.Find(t.Context(), study, s)
	require.NoError(t, err)
	assert.Equal(t, search.Counts.In, search.Counts.Out+search.Counts.Rejected)
	confirmation, err := confirm.Shortlist(t.Context(), study, s)
	require.NoError(t, err)
	assert.Equal(t, confirmation.Counts.In, confirmation.Counts.Out+confirmation.Counts.Rejected)
}
