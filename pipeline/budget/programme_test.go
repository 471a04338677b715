package budget

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/internal/trial"
	"plinth/pipeline/plan"
	"plinth/pipeline/screen"
)

// screened screens the study, so that its buildings are left for the budget.
func screened(t testing.TB, study *assess.Study) *assess.Study {
	t.Helper()
	_, err := screen.Stock(t.Context(), study, assess.Settings{Replace: true})
	require.NoError(t, err)
	return study
}

// A programme keeps its money and its terms, and is the same with any number of
// workers.
func TestBudget(t *testing.T) {
	study := trial.Open(t, 120, func(p *plan.Plan) {
		p.Budget.Must, p.Budget.Cannot, p.Budget.Yearly = []string{"CS-00040"}, []string{"CS-00002"}, 1.5e6
		p.Budget.CarryOver, p.Budget.Decant, p.Uncertainty.Draws = false, 60, 0
	})
	screened(t, study)
	one, err := Choose(context.Background(), study, assess.Settings{Workers: 1})
	require.NoError(t, err)
	many, err := Choose(context.Background(), study, assess.Settings{Workers: 4, Replace: true})
	require.NoError(t, err)
	assert.Equal(t, one.Works, many.Works)
	cost, load := map[int64]float64{}, map[int64]float64{}
	ids := map[string]bool{}
	for _, w := range one.Works {
		cost[w.Year] += w.CostLikely
		load[w.Year] += w.Displaced
		assert.False(t, ids[w.ID], "one measure a building")
		ids[w.ID] = true
	}
	assert.True(t, ids["CS-00040"])
	assert.False(t, ids["CS-00002"])
	for y := range cost {
		assert.LessOrEqual(t, cost[y], 1.5e6*(1+1e-9))
		assert.LessOrEqual(t, load[y], 60*(1+1e-9))
	}
	require.Len(t, one.Fronts, 4)
	for _, f := range one.Fronts {
		assert.Zero(t, f.Points[0].Spent)
	}
	svg, err := os.ReadFile(filepath.Join(study.Plan().Output.Folder, "budget", FrontierFile))
	require.NoError(t, err)
	assert.Contains(t, string(svg), "deaths avoided over the life")
}

// More money never gains less.
func TestBudgetMonotone(t *testing.T) {
	dir := town.New(t, 120)
	before := -1.0
	screened(t, trial.OpenIn(t, dir, nil))
	for _, money := range []float64{1e5, 5e5, 2e6, 8e6, 5e7} {
		study := trial.OpenIn(t, dir, func(p *plan.Plan) {
			p.Budget = plan.Budget{Total: money, FirstYear: 1, Years: 1}
		})
		out, err := Choose(context.Background(), study, assess.Settings{Replace: true})
		require.NoError(t, err)
		assert.Greater(t, out.Schedule.Gain, before)
		before = out.Schedule.Gain
	}
}

// What a person may get wrong in the terms, and what is said of it.
func TestTerms(t *testing.T) {
	for doc, want := range map[string]string{
		"id,group,latest_year\na,wing,2030\n": "",
		"id\na\n":                             "",
		"ID\na\n":                             `column "ID" is not one of id, group, latest_year`,
		"group\nx\n":                          "no column id",
		"id\nb\n":                             `terms.csv:2: no building "b" was assessed`,
		"id,latest_year\na,soon\n":            `latest_year "soon": want a year from 2027 on`,
		"id,latest_year\na,2020\n":            `want a year from 2027 on`,
		"id\na\na\n":                          `terms.csv:3: building a stands twice`,
		"id,id\na,a\n":                        `terms.csv:1: column id stands twice`,
		"":                                    "the first line names the columns",
	} {
		x := newTerms()
		err := x.read(strings.NewReader(doc), "terms.csv", 2027, 5)
		x.meet("a")
		err = errors.Join(err, x.unknown("terms.csv"))
		if want == "" {
			assert.NoError(t, err)
		} else {
			assert.ErrorContains(t, err, want)
		}
	}
	study := trial.Open(t, 60, func(p *plan.Plan) {
		p.Budget.Must, p.Budget.Cannot = []string{"CS-00040", "nobody"}, []string{"CS-00040"}
	})
	_, err := Choose(context.Background(), screened(t, study), assess.Settings{})
	assert.ErrorContains(t, err, `no building "nobody" was assessed`)
	assert.ErrorContains(t, err, `both must and cannot be done`)
	study = trial.Open(t, 60, func(p *plan.Plan) { p.Budget = plan.Budget{Years: 1} })
	_, err = Choose(context.Background(), study, assess.Settings{})
	assert.ErrorIs(t, err, ErrNoBudget)
}
