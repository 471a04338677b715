package inspect

import (
	"context"
	"encoding/csv"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/trial"
	"plinth/pipeline/output"
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

// Knowing more is never worth less than nothing; the rows are the same with any
// number of workers; each building is on one visit, near its leader.
func TestInspect(t *testing.T) {
	study := trial.Open(t, 120, nil)
	one, err := Find(context.Background(), study, assess.Settings{Workers: 1})
	require.NoError(t, err)
	many, err := Find(context.Background(), study, assess.Settings{Workers: 4, Replace: true})
	require.NoError(t, err)
	require.Equal(t, len(one.Rows), len(many.Rows))
	require.NotEmpty(t, one.Rows)
	visit := map[string]int64{}
	for i, w := range one.Rows {
		assert.Equal(t, w, many.Rows[i])
		assert.GreaterOrEqual(t, w.Worth, 0.0)
		assert.True(t, w.BestChanges > 0 || w.FundedChanges > 0)
		assert.LessOrEqual(t, w.BestChanges, 1+1e-9)
		if v, ok := visit[w.ID]; ok {
			assert.Equal(t, v, w.Visit)
		}
		visit[w.ID] = w.Visit
	}
	for i, v := range one.Visits {
		assert.LessOrEqual(t, len(v.Buildings), walkBuildings)
		for _, id := range v.Buildings {
			assert.Equal(t, int64(i+1), visit[id])
		}
	}
	b, err := os.ReadFile(filepath.Join(study.Plan().Output.Folder, "inspect", "inspect.csv"))
	require.NoError(t, err)
	all, err := csv.NewReader(strings.NewReader(string(b))).ReadAll()
	require.NoError(t, err)
	assert.Len(t, all, len(one.Rows)+1)
	assert.Equal(t, output.Inspections.Columns[0].Name, all[0][0])
}
