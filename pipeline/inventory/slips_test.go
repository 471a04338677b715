package inventory

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/plan"
)

const slipHeader = "ref,lon,lat,built,strong,floors,height,area,foot,length,width,type,use,night,value,period," +
	"strength,vs30,ground\n"
const slipRow = "B1,-150.1234,40.1234,1956,,4,14,4000,1000,40,25,RC,office,90,10000000,,,,\n"

func slipPlan() *plan.Inventory {
	return &plan.Inventory{
		Format: "csv", Delimiter: ",", Encoding: "utf-8",
		Columns: map[string]string{
			"id": "ref", "lon": "lon", "lat": "lat", "year": "built", "year_strengthened": "strong",
			"storeys": "floors", "height": "height", "floor_area": "area", "footprint": "foot",
			"length": "length", "width": "width",
			"system": "type", "use": "use",
			"occupants_night": "night", "value": "value", "period": "period", "strength_ratio": "strength",
			"vs30": "vs30", "site_class": "ground",
		},
		Units: map[string]string{
			"height": "m", "floor_area": "m2", "footprint": "m2", "length": "m", "width": "m",
			"period": "s", "strength_ratio": "1", "value": "1",
		},
		Values: map[string]map[string]string{"system": {"RC": "concrete-frame"}},
	}
}

func slipWith(changes string) string {
	names := strings.Split(strings.TrimSpace(slipHeader), ",")
	cells := strings.Split(strings.TrimSpace(slipRow), ",")
	for c := range strings.FieldsSeq(changes) {
		name, value, _ := strings.Cut(c, "=")
		for i, n := range names {
			if n == name {
				cells[i] = value
			}
		}
	}
	return slipHeader + strings.Join(cells, ",") + "\n"
}

// Slips of one cell that look like values: none passes without a finding by name, and
// what cannot be is not used.
func TestSlips(t *testing.T) {
	opt := Options{ValuePerArea: 2500, LatestYear: 2027}
	buildings, _, _ := read(t, open(t, slipHeader+slipRow, slipPlan(), opt))
	require.Len(t, buildings, 1)
	sound := buildings[0]
	require.Zero(t, sound.Flags.Slugs())
	require.Equal(t, Grade('B'), sound.Grade)

	gone := math.NaN()
	for _, c := range []struct {
		cells string
		rule  Rule
		grade Grade
		field Field
		want  float64 // gone: not the register's any more
	}{
		{"value=10000000000", ValuePerArea, 'C', Value, 1e10}, // times 1000
		{"value=10000", ValuePerArea, 'C', Value, 1e4},        // thousands meant
		{"value=5", ValuePerArea, 'C', Value, 5},
		{"night=9000", Crowded, 'C', OccupantsNight, gone},
		{"night=90000", Crowded, 'C', OccupantsNight, gone},
		{"built=2056", FutureYear, 'C', Year, gone},
		{"built=2099", FutureYear, 'C', Year, gone},
		{"built=2050", FutureYear, 'C', Year, gone},
		{"built=1968-13-45", NoSuchDate, 'B', Year, 1968},
		{"strong=2099", FutureYear, 'C', YearStrengthened, gone},
		{"period=15", PeriodHeight, 'C', Period, gone},
		{"period=0.02", PeriodHeight, 'C', Period, gone},
		{"strength=5", StrengthRange, 'C', StrengthRatio, gone},
		{"strength=0.006", StrengthRange, 'C', StrengthRatio, gone},
		{"length=131", PlanArea, 'C', Length, 131},
		{"length=2", PlanArea, 'C', Width, 2},
		{"length=2000", PlanArea, 'C', Length, 2000},
		{"width=82", SidesExchanged, 'B', Length, 82},
		{"width=50", SidesExchanged, 'B', Length, 50},
		{"floors=100", HeightStoreys, 'C', Height, gone},
		{"area=4", AreaStoreys, 'C', Value, 1e7},
		{"area=43000", AreaStoreys, 'C', Value, 1e7},
		{"vs30=50 ground=D", ClassVelocity, 'C', Vs30, 50},
		{"vs30=5000 ground=D", ClassVelocity, 'C', Vs30, 5000},
	} {
		buildings, rejects, rep := read(t, open(t, slipWith(c.cells), slipPlan(), opt))
		require.Empty(t, rejects, c.cells)
		b := &buildings[0]
		assert.True(t, b.Flags.Has(c.rule), "%s has no %s", c.cells, c.rule)
		assert.Equal(t, 1, rep.Count(c.rule), c.cells)
		assert.GreaterOrEqual(t, b.Grade, c.grade, c.cells)
		got := map[Field]float64{
			Value: b.Value, OccupantsNight: b.OccupantsNight, Year: float64(b.Year), Period: b.Period, Height: b.Height,
			StrengthRatio: b.StrengthRatio, Length: b.Length, Width: b.Width, Vs30: b.Vs30,
		}[c.field]
		if math.IsNaN(c.want) {
			assert.NotEqual(t, Given, b.Origin[c.field], c.cells)
			continue
		}
		assert.Equal(t, c.want, got, c.cells)
	}
}

// Sound values next to the bounds raise nothing.
func TestSoundValuesAreNotSlips(t *testing.T) {
	opt := Options{ValuePerArea: 2500, LatestYear: 2027}
	for _, cells := range []string{
		"value=50000000", "value=2000000", "night=4000", "built=2027", "strong=2026", "period=0.3", "period=1.5",
		"strength=0.4", "length=60", "width=40", "vs30=250 ground=D", "ground=D", "vs30=250",
		"ground=E vs30=250", "ground=F vs30=900",
	} {
		buildings, _, _ := read(t, open(t, slipWith(cells), slipPlan(), opt))
		assert.Empty(t, buildings[0].Flags.Slugs(), cells)
	}
}

// Half of a column in thousands shows by the register itself, whatever the currency.
func TestMixedValues(t *testing.T) {
	var text strings.Builder
	text.WriteString(slipHeader)
	for i := range 60 {
		value := "600000000" // 150,000 a m2
		if i%6 == 0 {
			value = "600000" // thousands
		}
		row := strings.TrimPrefix(slipWith("value="+value+" ref=B"+strings.Repeat("x", i)), slipHeader)
		text.WriteString(row)
	}
	_, _, rep := read(t, open(t, text.String(), slipPlan(), Options{}))
	assert.Equal(t, 10, rep.Count(MixedValues))
	assert.Zero(t, rep.Count(ValuePerArea), "the plan names no value")
}

// A year that the register marks as approximate is not one that it lacks.
func TestInexactYearsAreCountedApart(t *testing.T) {
	text := smallHeader + rowWith("built=c. 1930") + rowWith("ref=B2", "built=19. Jh.") +
		rowWith("ref=B3", "built=") + rowWith("ref=B4")
	_, _, rep := read(t, open(t, text, smallPlan(), Options{}))
	assert.Equal(t, 2, rep.Inexact[Year])
	assert.Equal(t, 1, rep.Origins[Year][Absent])
	assert.Equal(t, 1, rep.Origins[Year][Given])
}

// A value that is not believed leaves the building as an empty cell would: nothing of
// it is used, but the grade and the row know of it.
func TestSlipsAreNotUsed(t *testing.T) {
	opt := Options{ValuePerArea: 2500, LatestYear: 2027}
	for _, c := range [][2]string{
		{"night=9000", "night="}, {"built=2056", "built="}, {"strong=2099", "strong="},
		{"period=15", "period="}, {"period=0.02", "period="}, {"strength=5", "strength="},
	} {
		slipped, _, _ := read(t, open(t, slipWith(c[0]), slipPlan(), opt))
		empty, _, _ := read(t, open(t, slipWith(c[1]), slipPlan(), opt))
		require.Len(t, slipped, 1, c[0])
		require.Equal(t, Grade('C'), slipped[0].Grade, c[0])
		assert.NotZero(t, slipped[0].Unused, "the row says that a cell was not used: %s", c[0])
		slipped[0].Flags, slipped[0].Grade, slipped[0].Unused = empty[0].Flags, empty[0].Grade, 0
		assert.Equal(t, withoutLines(empty), withoutLines(slipped), c[0])
	}
}
