package inspect

import (
	"context"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/internal/trial"
	"plinth/pipeline/screen"
)

// A choice that no finding changes is worth nothing to know, in whatever order its gains
// are added up; one that a finding changes is worth the difference.
func TestWorthOfWhatChangesNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 1000 {
		var up, down float64
		p, g := make([]float64, 5), make([]float64, 5)
		for i := range p {
			p[i], g[i] = r.Float64(), 1e6*r.Float64()
			up += p[i] * g[i]
		}
		for i := range p {
			down += p[4-i] * g[4-i]
		}
		assert.Zero(t, worth(up, down))
	}
	assert.Equal(t, 10.0, worth(1e6+10, 1e6))
	assert.Equal(t, 5.0, worth(5, 0))
	assert.Zero(t, worth(0, 0))
}

// screened screens the study, so that its buildings are left to be inspected.
func screened(t testing.TB, study *assess.Study) *assess.Study {
	t.Helper()
	_, err := screen.Stock(t.Context(), study, assess.Settings{Replace: true})
	require.NoError(t, err)
	return study
}

// Knowing more is never worth less than nothing; the rows are the same with any
// number of workers; each building is on one visit, near its leader.
func TestInspect(t *testing.T) {
	study := screened(t, trial.Open(t, 120, nil))
	one, err := Find(context.Background(), study, assess.Settings{Workers: 1})
	require.NoError(t, err)
	path := filepath.Join(study.Plan().Output.Folder, "inspect", "inspect.csv")
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	many, err := Find(context.Background(), study, assess.Settings{Workers: 4, Replace: true})
	require.NoError(t, err)
	require.Equal(t, one, many)
	again, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, string(b), string(again))
	rows := town.Rows(t, b)
	require.EqualValues(t, one.Found, len(rows))
	require.NotEmpty(t, rows)
	visit := map[string]int64{}
	for i, w := range rows {
		id, changes := w["building_id"], town.Number(t, w["best_changes"])
		assert.Equal(t, strconv.Itoa(i+1), w["place"])
		assert.GreaterOrEqual(t, town.Number(t, w["worth"]), 0.0)
		assert.True(t, changes > 0 || town.Number(t, w["funded_changes"]) > 0)
		assert.LessOrEqual(t, changes, 1+1e-9)
		n := int64(town.Number(t, w["visit"]))
		if v, ok := visit[id]; ok {
			assert.Equal(t, v, n)
		}
		visit[id] = n
	}
	for i, v := range one.Visits {
		assert.LessOrEqual(t, len(v.Buildings), walkBuildings)
		for _, id := range v.Buildings {
			assert.Equal(t, int64(i+1), visit[id])
		}
	}
}
