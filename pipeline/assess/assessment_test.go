package assess

import (
	"context"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/internal/town"
	"plinth/pipeline/plan"
	"plinth/pipeline/sample"
)

// One building as a run sees it, every stage in turn; nothing may be allocated
// but the texts of its rows.
func BenchmarkAssess(b *testing.B) {
	dir := town.New(b, sample.Buildings)
	p, err := plan.Load(filepath.Join(dir, sample.PlanFile))
	require.NoError(b, err)
	study, err := Open(p)
	require.NoError(b, err)
	one, err := study.AssessOne(context.Background(), "CS-00006") // five storeys, every measure
	require.NoError(b, err)
	building := *one.Building
	a := study.NewAssessment()
	b.ReportAllocs()
	for b.Loop() {
		if err := a.Assess(&building); err != nil {
			b.Fatal(err)
		}
	}
}

func TestAssessAllocatesNothing(t *testing.T) {
	dir := town.New(t, sample.Buildings)
	p, err := plan.Load(filepath.Join(dir, sample.PlanFile))
	require.NoError(t, err)
	study, err := Open(p)
	require.NoError(t, err)
	one, err := study.AssessOne(context.Background(), "CS-00006")
	require.NoError(t, err)
	building, a := *one.Building, study.NewAssessment()
	require.NoError(t, a.Assess(&building))
	assert.Zero(t, testing.AllocsPerRun(20, func() { _ = a.Assess(&building) }))
}
