package pipeline

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/budget"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/internal/trial"
	"plinth/pipeline/plan"
	"plinth/pipeline/screen"
	"plinth/retrofit"
)

// A plan with its money at the limits of the plan reference is worked through: every
// number is finite, and a dearer building loses more.
func TestMoneyAtItsLimits(t *testing.T) {
	if testing.Short() {
		t.Skip("screens the demo several times")
	}
	var loss [2]float64
	for i, value := range []float64{2500, 1e15} {
		study := trial.Open(t, 60, func(p *plan.Plan) {
			p.Consequence.ValuePerArea, p.Budget.Yearly = value, 1e15
			p.Measures.Options["strengthen"].(*retrofit.StrengthenOptions).Price.Fixed = 1e15
			p.Measures.Options["viscous"].(*retrofit.ViscousOptions).Price.PerDevice = 1e15
			p.Uncertainty.Draws = 0
			p.Output.Formats = []string{"csv", "html"}
		})
		_, err := screen.Stock(context.Background(), study, assess.Settings{})
		require.NoError(t, err)
		_, err = budget.Choose(context.Background(), study, assess.Settings{})
		require.NoError(t, err)
		b, err := os.ReadFile(filepath.Join(study.Plan().Output.Folder, "buildings.csv"))
		require.NoError(t, err)
		for _, row := range town.Rows(t, b) {
			for column, cell := range row {
				x, err := strconv.ParseFloat(cell, 64)
				assert.False(t, err == nil && (math.IsInf(x, 0) || math.IsNaN(x)), "%s is %s", column, cell)
			}
			loss[i] += town.Number(t, row["annual_loss"])
		}
	}
	assert.InEpsilon(t, 1e15/2500, loss[1]/loss[0], 0.01, "loss goes with value")
}
