package pipeline

import (
	"bytes"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/plan"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every way to a building ends in a sentence about that building.
func TestFailedBuildingInEveryCommand(t *testing.T) {
	dir := town.New(t, 60)
	r := faultyRun(t, dir, faulty, func(p *plan.Plan) {
		p.Confirm.Shortlist, p.Confirm.Records, p.Confirm.Pictures = 2, 2, 1
	})
	s := Settings{Replace: true}

	_, err := r.AssessOne(t.Context(), faulty)
	require.ErrorContains(t, err, faulty)
	require.ErrorContains(t, err, SolverFailed)
	require.ErrorContains(t, err, "report it")

	c, err := r.Check(t.Context())
	require.NoError(t, err)
	assert.Equal(t, int64(1), c.Failed)
	assert.Equal(t, int64(c.Register.Tally.In), c.Usable()+c.Rejected())
	var text bytes.Buffer
	require.NoError(t, c.Write(&text))
	words := strings.Join(strings.Fields(text.String()), " ")
	assert.Contains(t, words, "1 building on which the program failed: line 3, CS-00002: "+SolverFailed)

	spending, err := r.Budget(t.Context(), s)
	require.NoError(t, err)
	assert.Equal(t, spending.Counts.In, spending.Counts.Out+spending.Counts.Rejected)
	search, err := r.Inspect(t.Context(), s)
	require.NoError(t, err)
	assert.Equal(t, search.Counts.In, search.Counts.Out+search.Counts.Rejected)
	confirmation, err := r.Confirm(t.Context(), s)
	require.NoError(t, err)
	assert.Equal(t, confirmation.Counts.In, confirmation.Counts.Out+confirmation.Counts.Rejected)

	var written, rejected memory
	screenedBuildings(t, r, Outlets{&written, &written, &written, &rejected})
	assert.Contains(t, string(bytes.Join(rejected, nil)), SolverFailed)
}
