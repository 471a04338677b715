package assess

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/internal/town"
	"plinth/pipeline/inventory"
	"plinth/pipeline/plan"
	"plinth/pipeline/sample"
)

// withArchetypes returns the run of the demo in dir with lines added to its table
// of archetypes.
func withArchetypes(t *testing.T, dir, lines string) (*Study, error) {
	t.Helper()
	path := filepath.Join(dir, sample.PlanFile)
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	doc := strings.Replace(string(b), "[archetypes]\n", "[archetypes]\n"+lines+"\n", 1)
	require.NoError(t, os.WriteFile(path, []byte(doc), 0o600))
	p, err := plan.Load(path)
	require.NoError(t, err)
	return Open(p)
}

// Rows of the plan's own replace those of the embedded table: a heavier concrete
// frame is heavier in proportion.
func TestOwnTableOfSystems(t *testing.T) {
	dir := town.New(t, 10)
	study, err := withArchetypes(t, dir, "")
	require.NoError(t, err)
	before, err := study.AssessOne(context.Background(), "CS-00006")
	require.NoError(t, err)

	own := "system,quantity,value,source,confidence\nconcrete-frame,weight_kpa,20,weighed,high\n"
	require.NoError(t, os.WriteFile(filepath.Join(dir, "own.csv"), []byte(own), 0o600))
	study, err = withArchetypes(t, dir, `systems = "own.csv"`)
	require.NoError(t, err)
	after, err := study.AssessOne(context.Background(), "CS-00006")
	require.NoError(t, err)
	assert.InEpsilon(t, 20e3*after.Building.FloorArea, after.Archetype.Weight, 1e-9)
	assert.NotEqual(t, before.Archetype.Weight, after.Archetype.Weight)
}

// The spread of drift limits counts: a wider one makes a sound building lose more.
func TestOwnSpreadOfLimits(t *testing.T) {
	dir := town.New(t, 10)
	deaths := func(beta string) float64 {
		own := "system,quantity,value,source,confidence\nany,drift_beta,0.3,x,low\nconcrete-frame,drift_beta," +
			beta + ",tests,low\n"
		require.NoError(t, os.WriteFile(filepath.Join(dir, "own.csv"), []byte(own), 0o600))
		study, err := withArchetypes(t, dir, `systems = "own.csv"`)
		require.NoError(t, err)
		a, err := study.AssessOne(context.Background(), "CS-00006")
		require.NoError(t, err)
		require.Equal(t, "concrete-frame", a.Building.System.String())
		return a.Before.Dead
	}
	narrow := deaths("0.3")
	dir = town.New(t, 10)
	assert.Greater(t, deaths("0.9"), 1.1*narrow)
}

// A table that cannot be used says where and what to write.
func TestOwnTableWithSlips(t *testing.T) {
	dir := town.New(t, 10)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "own.csv"),
		[]byte("system,quantity,value,source,confidence\nconcrete-frame,weight_kpa,heavy,x,high\n"), 0o600))
	_, err := withArchetypes(t, dir, `systems = "own.csv"`)
	require.ErrorContains(t, err, "archetypes.systems")
	require.ErrorContains(t, err, "heavy")
	_, err = withArchetypes(t, town.New(t, 10), `eras = "none.csv"`)
	require.ErrorContains(t, err, "none.csv")
}

// Every field that was assumed widens the spread of demand, never narrows it.
func TestAssumedFieldsWidenTheSpread(t *testing.T) {
	var b inventory.Building
	last := 0.0
	for _, f := range []inventory.Field{inventory.System, inventory.Storeys, inventory.Height,
		inventory.Year} {
		b.Origin[f] = inventory.Assumed
		assert.Greater(t, imputedSpread(&b), last)
		last = imputedSpread(&b)
	}
}

// A building known to twist is weaker by the torsion penalty of the archetypes.
func TestIrregularPlan(t *testing.T) {
	dir := town.New(t, 10)
	study, err := withArchetypes(t, dir, "")
	require.NoError(t, err)
	before, err := study.AssessOne(context.Background(), "CS-00006")
	require.NoError(t, err)
	path := filepath.Join(dir, sample.PlanFile)
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	// The demo has no such column: its column of protected buildings stands in, and
	// every building is told to be irregular.
	doc := strings.Replace(string(b), `heritage = "LISTED"`, `plan_irregular = "LISTED"`, 1)
	doc = strings.Replace(doc, "[inventory.values.use]",
		"[inventory.values.plan_irregular]\nno = \"yes\"\n[inventory.values.use]", 1)
	require.NoError(t, os.WriteFile(path, []byte(doc), 0o600))
	p, err := plan.Load(path)
	require.NoError(t, err)
	study, err = Open(p)
	require.NoError(t, err)
	after, err := study.AssessOne(context.Background(), "CS-00006")
	require.NoError(t, err)
	assert.InEpsilon(t, before.Archetype.StrengthRatio/1.2, after.Archetype.StrengthRatio, 1e-9,
		"ASCE 7-16 Table 12.3-2 type 1a threshold; judgement")
}
