package inventory

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/plan"
)

// A plan needs a hazard; registers do not look at it.
const anyHazard = `
[hazard]
kind = "grid"
path = "hazard.csv"
soil_included = true
`

// Each file under testdata/rules is a case of one cleaning rule or one way of
// filling gaps: plan and register in, report and buildings out. The update flag
// writes what comes out.
func TestGoldenRules(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("testdata", "rules", "*.txtar"))
	require.NoError(t, err)
	shown := make(map[string]bool)
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".txtar")
		shown[name] = true
		t.Run(name, func(t *testing.T) { golden(t, file, name) })
	}
	for rule := range numRules {
		assert.True(t, shown[rule.String()], "rule %s has no golden case", rule)
	}
}

func golden(t *testing.T, file, name string) {
	archive, err := txtar.ParseFile(file)
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(archive.Files), 2)
	p, err := plan.Parse("plan.toml", slices.Concat(archive.Files[0].Data, []byte(anyHazard)))
	require.NoError(t, err)
	register := archive.Files[1]
	r, err := NewReader(bytes.NewReader(register.Data), register.Name, &p.Inventory, Options{Coverage: cover, ValuePerArea: 2500, LatestYear: p.LatestYear()})
	require.NoError(t, err)
	buildings, rejects, rep := read(t, r)
	for rule := range numRules {
		if rule.String() == name {
			assert.NotZero(t, rep.Count(rule), "the rule must fire")
		}
	}
	var out strings.Builder
	for i := range buildings {
		writeBuilding(&out, &buildings[i])
	}
	for i := range rejects {
		fmt.Fprintln(&out, rejects[i].Error())
	}
	got := []txtar.File{{Name: "report.txt", Data: []byte(rep.String())}, {Name: "buildings.txt", Data: []byte(out.String())}}
	if *update {
		archive.Files = append(archive.Files[:2], got...)
		require.NoError(t, os.WriteFile(file, txtar.Format(archive), 0o644))
		return
	}
	require.Len(t, archive.Files, 4, "run with -update")
	for i, f := range got {
		assert.Equal(t, string(archive.Files[2+i].Data), string(f.Data))
	}
}

// writeBuilding writes every field of a building with its rule.
func writeBuilding(out *strings.Builder, b *Building) {
	fmt.Fprintf(out, "%s, line %d, grade %s, %d points, %s\n", b.ID, b.Line, b.Grade, b.Score, strings.Join(b.Flags.Slugs(), " "))
	if b.Touching >= 0 {
		fmt.Fprintf(out, "  touching %d\n", b.Touching)
	}
	for f := range Field(NumFields) {
		if f != ID && b.Origin[f] != Absent {
			fmt.Fprintf(out, "  %s %s, %s: %s\n", f, valueText(b, f), b.Origin[f], b.Rule(f))
		}
	}
}

func valueText(b *Building, f Field) string {
	if x, ok := map[Field]float64{
		Lon: b.Lon, Lat: b.Lat, Year: float64(b.Year), YearStrengthened: float64(b.YearStrengthened), Storeys: float64(b.Storeys), StoreysBelow: float64(b.StoreysBelow),
		Height: b.Height, FloorArea: b.FloorArea, Footprint: b.Footprint, Length: b.Length, Width: b.Width, Gap: b.Gap, SitePeriod: b.SitePeriod, FaultDistance: b.FaultDistance,
		OccupantsDay: b.OccupantsDay, OccupantsNight: b.OccupantsNight, Value: b.Value, Period: b.Period, StrengthRatio: b.StrengthRatio, StoreysTotal: math.NaN(),
	}[f]; ok {
		return fmt.Sprintf("%.7g", x)
	}
	return fmt.Sprint(map[Field]any{
		Name: b.Name, Condition: b.Condition, System: b.System, Profile: b.Profile, SiteClass: b.SiteClass, UseField: b.Use, Contents: b.Contents, Plane: b.Plane, Heritage: b.Heritage,
	}[f])
}
