package trial

import (
	"strconv"
	"strings"

	"github.com/stretchr/testify/require"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/pipeline/assess"
	"plinth/pipeline/inventory"
	"plinth/pipeline/plan"
)

// legalBuilding draws a row of a register and returns its building; nil if the register's
// rules reject it.
func legalBuilding(t *Case, study *assess.Study) *inventory.Building {
	var names, cells []string
	from := plan.Inventory{
		Format: "csv", Path: "buildings.csv", Encoding: "auto", Impute: "defaults",
		Columns: map[string]string{}, Units: map[string]string{},
	}
	add := func(f inventory.Field, cell string) {
		name := f.String()
		names, cells, from.Columns[name] = append(names, name), append(cells, cell), name
		if d := f.Spec().Dimension; d.Declared() {
			from.Units[name] = d.Units()[0]
		}
	}
	storeys := oneOf(t, 1, 2, 3, 5, 8, 13, 21, 40, 80)
	number := func(f inventory.Field, least, most float64) {
		if t.either() {
			add(f, strconv.FormatFloat(t.extreme(least, most), 'f', -1, 64))
		}
	}
	add(inventory.ID, "1")
	add(inventory.Lon, "10.12345")
	add(inventory.Lat, "45.12345")
	add(inventory.Storeys, strconv.Itoa(storeys))
	word := func(f inventory.Field, words ...string) {
		if t.r.IntN(8) > 0 {
			add(f, oneOf(t, words...))
		}
	}
	var systems, uses []string
	for _, s := range archetypes.Systems() {
		systems = append(systems, s.String())
	}
	for u := inventory.House; u < inventory.NumUses; u++ {
		uses = append(uses, u.String())
	}
	word(inventory.System, systems...)
	word(inventory.UseField, uses...)
	word(inventory.SiteClass, "A", "B", "C", "D", "E", "F")
	word(inventory.Profile, archetypes.Regular.String(), archetypes.WeakGround.String(),
		archetypes.SetBack.String())
	word(inventory.Plane, "yes", "no")
	word(inventory.Heritage, "yes", "no")
	word(inventory.PlanIrregular, "yes", "no")
	area := inventory.FloorArea.Spec()
	add(inventory.FloorArea, strconv.FormatFloat(t.extreme(area.Min, area.Max), 'f', -1, 64))
	for _, f := range []inventory.Field{
		inventory.Footprint, inventory.Length, inventory.Width, inventory.Gap, inventory.SitePeriod,
		inventory.FaultDistance, inventory.OccupantsDay, inventory.OccupantsNight, inventory.Value,
		inventory.Period, inventory.StrengthRatio,
	} {
		number(f, f.Spec().Min, f.Spec().Max)
	}
	number(inventory.Height, max(2, 2.4*float64(storeys)), min(1000, 12*float64(storeys)))
	if t.either() {
		add(inventory.Year, strconv.Itoa(t.r.IntN(2100+1-1000)+1000))
	}
	text := strings.Join(names, ",") + "\n" + strings.Join(cells, ",") + "\n"
	reader, err := inventory.NewReader(strings.NewReader(text), "buildings.csv", &from, inventory.Options{
		Coverage: study.Hazard().Bound(), ValuePerArea: study.Plan().Consequence.ValuePerArea,
		Ground: func(_, _, vs30 float64) hazard.SiteClass {
			class, _ := study.SoilStandard().Class(vs30) // none where the velocity is not known
			return class
		},
	})
	require.NoError(t, err, text)
	defer reader.Close()
	var raw inventory.Raw
	batch := new(inventory.Batch)
	require.NoError(t, reader.Read(&raw, batch))
	require.Equal(t, 1, len(batch.Rejects)+len(batch.Buildings), text)
	if len(batch.Buildings) == 0 {
		return nil
	}
	return &batch.Buildings[0]
}
