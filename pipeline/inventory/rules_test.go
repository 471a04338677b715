package inventory

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/archetypes"
	"plinth/retrofit"
)

// cover is the coverage of a hazard file around the small registers' place.
var cover = orb.Bound{Min: orb.Point{-151, 40}, Max: orb.Point{-149, 41}}

// row of a small register with some cells changed: "height=99" and the like.
func rowWith(changes ...string) string {
	names := strings.Split(strings.TrimSpace(smallHeader), ",")
	cells := strings.Split(strings.TrimSpace(smallRow), ",")
	for _, c := range changes {
		name, value, _ := strings.Cut(c, "=")
		for i, n := range names {
			if n == name {
				cells[i] = value
			}
		}
	}
	return strings.Join(cells, ",") + "\n"
}

// Each rule that rejects, by a row it rejects and the column it names.
func TestRejectingRules(t *testing.T) {
	tested := map[Rule]bool{DuplicateID: true, BadFeature: true} // TestRejectMessage, TestBadFeatures
	for _, c := range []struct {
		row    string
		rule   Rule
		column string
	}{
		{"B1,too,short\n", RaggedRow, ""},
		{rowWith(`name=The "Hall"`), BrokenQuote, ""},
		{rowWith("ref="), MissingID, "ref"},
		{rowWith("ref=<Null>"), MissingID, "ref"},
		{rowWith("ref=B\x07"), UnseenID, "ref"},
		{rowWith("ref=B\u202e1"), UnseenID, "ref"},
		{rowWith("lon="), MissingCoordinate, "lon"},
		{rowWith("lat=n/a"), MissingCoordinate, "lat"},
		{rowWith("lat=north"), BadCoordinate, "lat"},
		{rowWith("lon=NaN"), MissingCoordinate, "lon"},
		{rowWith("lon=Inf"), BadCoordinate, "lon"},
		{rowWith("lon=1e300", "lat=1"), BadCoordinate, "lon"},
		{rowWith("lat=200"), BadCoordinate, "lat"},
		{rowWith("lon=0", "lat=0.0"), ZeroCoordinates, "lon"},
		{rowWith("lon=481234.5", "lat=5456789"), ProjectedCoordinates, "lon"},
		{rowWith("lon=40.1234", "lat=-150.1234"), SwappedCoordinates, "lat"},
		{rowWith("lon=150.1234"), SignOfCoordinate, "lon"},
		{rowWith("lat=-40.1234"), SignOfCoordinate, "lon"},
		{rowWith("lon=-150", "lat=40"), WholeDegrees, "lon"},
		{rowWith("use=silo"), SetAside, "use"},
		{rowWith("floors=1", "height=33.4"), TowerForm, "height"}, // a clock tower in the campus register
		{rowWith("type=RD"), MissingSystem, "type"},
		{rowWith("type="), MissingSystem, "type"},
		{rowWith("floors=0", "height="), MissingStoreys, "floors"},
		{rowWith("floors=5+2"), UnreadStoreys, "floors"},
		{rowWith("built=demolished 2020"), NotStanding, "built"},
		{rowWith("area=TBD"), MissingFloorArea, "area"},
	} {
		tested[c.rule] = true
		r := open(t, smallHeader+c.row, smallPlan(), Options{Coverage: cover})
		buildings, rejects, _ := read(t, r)
		require.Empty(t, buildings, c.row)
		require.Len(t, rejects, 1, c.row)
		assert.Equal(t, c.rule.String(), rejects[0].Rule.String(), c.row)
		assert.Equal(t, c.column, rejects[0].Column, c.row)
		assert.Equal(t, 2, rejects[0].Line)
		assert.Contains(t, rejects[0].Error(), rejects[0].Remedy())
	}
	for rule := range numRules {
		if rule.Spec().Rejects {
			assert.True(t, tested[rule], "rule %s has no case", rule)
		}
	}
}

// Where both orders are places on Earth, only the coverage can tell.
func TestSwappedByCoverage(t *testing.T) {
	here := orb.Bound{Min: orb.Point{20, 40}, Max: orb.Point{21, 41}}
	text := smallHeader + rowWith("lon=40.1234", "lat=20.1234")
	_, rejects, _ := read(t, open(t, text, smallPlan(), Options{Coverage: here}))
	require.Len(t, rejects, 1)
	assert.Equal(t, SwappedCoordinates, rejects[0].Rule)
	assert.Contains(t, rejects[0].Error(), "40.1234, 20.1234 is outside the hazard's coverage, 20.1234, 40.1234 inside")

	inv := smallPlan()
	inv.Swap = true
	buildings, _, _ := read(t, open(t, text, inv, Options{Coverage: here}))
	require.Len(t, buildings, 1)
	assert.Equal(t, 20.1234, buildings[0].Lon)
}

// A place far outside that no slip explains is the hazard's affair.
func TestOutsideCoverageIsKept(t *testing.T) {
	buildings, _, _ := read(t, open(t, smallHeader+rowWith("lon=-120.123"), smallPlan(), Options{Coverage: cover}))
	assert.Len(t, buildings, 1)
}

// Each rule that notes something, by a row and what is made of it.
func TestNotingRules(t *testing.T) {
	tested := map[Rule]bool{StackedPoint: true, NearDuplicate: true, StoreysSplit: true, YearOrder: true, AreaStoreys: true, MixedUnits: true,
		MixedAreas: true, AlikeID: true, OutsideOutline: true, EffectiveYear: true, ListedPart: true, // testdata/rules
		MixedValues: true, FutureYear: true, ValuePerArea: true, Crowded: true, PeriodHeight: true, StrengthRange: true, // TestSlips
		PlanArea: true, SidesExchanged: true, ClassVelocity: true}
	nan := math.NaN()
	for _, c := range []struct {
		row   string
		rule  Rule
		field Field
		want  float64 // NaN: missing, then filled or absent
	}{
		{rowWith("height=12m3"), NotANumber, Height, nan},
		{rowWith("height=1O.5"), NotANumber, Height, nan}, // the letter O
		{rowWith("height=Inf"), NotANumber, Height, nan},
		{rowWith("height=0x1p4"), NotANumber, Height, nan},
		{rowWith("height=1e300"), OutOfRange, Height, nan},
		{rowWith("floors=3.5"), StoreysNotation, Storeys, 3},
		{rowWith("floors=G+4"), StoreysNotation, Storeys, 5},
		{rowWith("floors=several"), NotANumber, Storeys, nan},
		{rowWith("built=1968-13-45"), NoSuchDate, Year, 1968},
		{rowWith("built=19. Jh."), Century, Year, 1850},
		{rowWith("floors=4000"), OutOfRange, Storeys, nan},
		{rowWith("built=47"), OutOfRange, Year, nan},
		{rowWith("built=21470101"), OutOfRange, Year, nan},
		{rowWith("use=castle"), UnknownWord, UseField, nan},
		{rowWith("built=000000"), PlaceholderDate, Year, nan},
		{rowWith("built=19000101"), PlaceholderDate, Year, nan},
		{rowWith("built=<Null>"), NullWord, Year, nan},
		{rowWith("height=NaN"), NullWord, Height, nan},
		{rowWith("height=-9999"), NullNumber, Height, nan},
		{rowWith("height=0"), NullNumber, Height, nan},
		{rowWith("built=1947?"), Approximate, Year, 1947},
		{rowWith("height=~14"), Approximate, Height, 14},
		{rowWith("height=46 ft"), UnitInCell, Height, 46 * 0.3048},
		{rowWith("height=14 metres"), UnitInCell, Height, 14},
		{rowWith(`area="2,500"`), Thousands, FloorArea, 2500},
		{rowWith("built=27395"), ExcelDate, Year, 1975}, // day 27395 from 1899-12-30 is 1975-01-01
		{rowWith("name=Caf\xe9"), NotUTF8, Storeys, 4},
		{rowWith("name=Old\x1b[31m Hall"), UnseenCharacter, Storeys, 4},
		{rowWith("lon=-150.12", "lat=40.1"), CoarseCoordinates, Lon, -150.12},
		{rowWith("floors=13", "height=3.46"), HeightStoreys, Height, nan},
		{rowWith("floors=2", "height=19.2"), TallStoreys, Height, 19.2},
		{rowWith("use=parking"), SpecialForm, Storeys, 4},
	} {
		tested[c.rule] = true
		buildings, rejects, rep := read(t, open(t, smallHeader+c.row, smallPlan(), Options{Coverage: cover}))
		require.Empty(t, rejects, c.row)
		require.Len(t, buildings, 1, c.row)
		b := &buildings[0]
		assert.Equal(t, 1, rep.Count(c.rule), "%s on %s", c.rule, c.row)
		assert.True(t, b.Flags.Has(c.rule), c.row)
		if math.IsNaN(c.want) {
			assert.NotEqual(t, Given, b.Origin[c.field], c.row)
			continue
		}
		got := map[Field]float64{Height: b.Height, FloorArea: b.FloorArea, Year: float64(b.Year), Storeys: float64(b.Storeys), Lon: b.Lon}
		assert.InDelta(t, c.want, got[c.field], 1e-9, c.row)
	}
	for rule := range numRules {
		if !rule.Spec().Rejects {
			assert.True(t, tested[rule], "rule %s has no case", rule)
		}
	}
}

func TestSamePlaceTwice(t *testing.T) {
	text := smallHeader + smallRow + rowWith("ref=B2", "floors=5", "height=17") + rowWith("ref=B3")
	buildings, _, rep := read(t, open(t, text, smallPlan(), Options{}))
	require.Len(t, buildings, 3)
	assert.Equal(t, 2, rep.Count(StackedPoint))
	assert.Equal(t, 1, rep.Count(NearDuplicate))
	assert.False(t, buildings[0].Flags.Has(StackedPoint))
	assert.True(t, buildings[2].Flags.Has(NearDuplicate))
	assert.Equal(t, "as line 2", rep.Examples[NearDuplicate][0].Raw)
}

// Storeys above and below ground in one number.
func TestSplitStoreys(t *testing.T) {
	for _, c := range []struct {
		total, below, height string
		storeys, under       int
		heightFrom           Origin
	}{
		{"6", "2", "14", 4, 2, Given},
		{"4", "", "14", 4, -1, Given},       // 3.5 m a storey: all above
		{"7", "", "15.86", 4, 3, Given},     // 2.27 m a storey: 15.86/3.6 = 4.4
		{"13", "", "3.46", 13, -1, Derived}, // cannot be: 12 below
		{"5", "", "", 5, -1, Derived},
	} {
		inv := smallPlan()
		delete(inv.Columns, "storeys")
		inv.Columns["storeys_total"], inv.Columns["storeys_below"] = "floors", "name"
		delete(inv.Columns, "name")
		text := smallHeader + rowWith("floors="+c.total, "name="+c.below, "height="+c.height)
		buildings, _, _ := read(t, open(t, text, inv, Options{}))
		require.Len(t, buildings, 1)
		b := &buildings[0]
		assert.Equal(t, c.storeys, b.Storeys, "%+v", c)
		assert.Equal(t, c.under, b.StoreysBelow, "%+v", c)
		assert.Equal(t, c.heightFrom, b.Origin[Height], "%+v", c)
	}
}

func TestFieldsAgainstEachOther(t *testing.T) {
	inv := smallPlan()
	inv.Columns["footprint"], inv.Columns["year_strengthened"] = "footprint", "strong"
	inv.Units["footprint"] = "m2"
	header := strings.TrimSpace(smallHeader) + ",footprint,strong\n"
	add := func(row, more string) string { return strings.TrimSpace(row) + more + "\n" }
	text := header + add(smallRow, ",5000,1950") + add(rowWith("ref=B2", "lon=-150.2222"), ",500,1990")
	buildings, _, rep := read(t, open(t, text, inv, Options{}))
	require.Len(t, buildings, 2)
	assert.Equal(t, 1, rep.Count(AreaStoreys), "2000 m2 on 4 storeys of 5000 m2")
	assert.Equal(t, 1, rep.Count(YearOrder))
	assert.Zero(t, buildings[0].YearStrengthened)
	assert.Equal(t, 1990, buildings[1].YearStrengthened)
}

// Fifty heights in metres and six in feet in one column.
func TestMixedUnits(t *testing.T) {
	var b strings.Builder
	b.WriteString(smallHeader)
	for i := range 56 {
		h := "7.2"
		if i%10 == 0 {
			h = "23.6" // ft
		}
		b.WriteString(rowWith("ref=B"+strings.Repeat("x", i), "lon=-150.1"+strings.Repeat("1", 3+i), "floors=2", "height="+h))
	}
	_, _, rep := read(t, open(t, b.String(), smallPlan(), Options{}))
	assert.Equal(t, 6, rep.Count(MixedUnits))
	_, _, rep = read(t, open(t, string(register(500)), registerPlan(), Options{}))
	assert.Zero(t, rep.Count(MixedUnits))
}

// What a silent register is filled with, by the rules of fill.go.
func TestFill(t *testing.T) {
	inv := smallPlan()
	inv.Assume = map[string]string{"system": "unknown-mix", "storeys": "3", "isolation_plane": "no"}
	text := smallHeader + rowWith("type=", "floors=", "height=", "use=hospital") + rowWith("ref=B2", "floors=", "height=12", "use=")
	buildings, _, _ := read(t, open(t, text, inv, Options{ValuePerArea: 3000}))
	require.Len(t, buildings, 2)
	b := &buildings[0]
	assert.Equal(t, 3, b.Storeys)
	assert.Equal(t, Assumed, b.Origin[Storeys])
	assert.Equal(t, 12.0, b.Height) // 3 of 4.0 m
	assert.Equal(t, Assumed, b.Origin[Height], "it comes from an assumed value")
	assert.Equal(t, archetypes.UnknownMix, b.System)
	assert.Equal(t, Assumed, b.Origin[System])
	assert.Equal(t, retrofit.SensitiveContents, b.Contents)
	assert.Equal(t, retrofit.No, b.Plane)
	assert.Equal(t, 2000/25.0, b.OccupantsDay)
	assert.Equal(t, 2000/40.0, b.OccupantsNight)
	assert.Equal(t, 6e6, b.Value)
	assert.InDelta(t, 2000/3.0, b.Footprint, 1e-9)
	assert.Equal(t, Grade('C'), b.Grade)

	b = &buildings[1]
	assert.Equal(t, 4, b.Storeys) // 12/3.3 = 3.6
	assert.Equal(t, Derived, b.Origin[Storeys])
	assert.Equal(t, retrofit.Facts{
		Storeys: 4, StoreysBelow: -1, Height: 12, FloorArea: 2000, Footprint: 500, Plane: retrofit.No, System: archetypes.ConcreteFrame,
	}, cleared(b.Facts()))
}

// cleared replaces unknown numbers of f by 0, so that they compare equal.
func cleared(f retrofit.Facts) retrofit.Facts {
	for _, x := range []*float64{&f.Length, &f.Width, &f.Gap, &f.SitePeriod, &f.FaultDistance} {
		if math.IsNaN(*x) {
			*x = 0
		}
	}
	return f
}
