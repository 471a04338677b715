package confirm

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/trial"
	"plinth/pipeline/inventory"
	"plinth/pipeline/plan"
)

// A legal building and each of its measures go through time histories, or have a status
// that says why not.
func TestLegalExtremesGoThroughHistories(t *testing.T) {
	if testing.Short() {
		t.Skip("many stocks")
	}
	study := trial.Open(t, 1, func(p *plan.Plan) { p.Confirm.Records = 2 })
	suites, err := openSuites(study)
	require.NoError(t, err)
	structures := 0
	trial.EachLegal(t, 1000, func(t *trial.Case, a *assess.Assessment, n int) {
		if n%20 == 0 { // they take a thousand times as long
			structures += requireHistories(t, a.Study(), a.Building, suites)
		}
	})
	require.Positive(t, structures)
}

// requireHistories checks that a building and each of its measures go through time
// histories, or have a status that says why not, and returns how many structures did.
func requireHistories(t *trial.Case, study *assess.Study, b *inventory.Building,
	suites suiteMaker) (rows int) {
	w := historyRunner{study: study, a: study.NewAssessment(), suites: suites}
	c, err := w.histories(&ranked{1, *b})
	require.Nil(t, assess.FailureOf(err), "%v", err)
	for i := range c.rows {
		row := &c.rows[i]
		said := row.Status != "" || row.Collapsed > 0
		number := row.DriftHistory >= 0 && row.DriftHistory <= math.MaxFloat64
		require.True(t, said || number, "%s: %+v", row.Measure, row)
	}
	return len(c.rows)
}
