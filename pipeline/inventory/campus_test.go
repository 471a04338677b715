package inventory

import (
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/inventory/outline"
	"plinth/pipeline/plan"
)

// campusFile returns the path of a file of the open campus register (UBC
// geospatial open data, PDDL 1.0), or skips the test where it is absent.
func campusFile(t *testing.T, name string) string {
	t.Helper()
	root := os.Getenv("PLINTH_SHARED")
	if root == "" {
		root = filepath.Join("..", "..", "..", "shared")
	}
	path := filepath.Join(root, "data", "campus", name)
	if _, err := os.Stat(path); err != nil {
		t.Skipf("the campus register is not here (%v); PLINTH_SHARED may name its folder", err)
	}
	return path
}

// campusPlan maps the campus register. Its systems are words for materials; the
// system taken for each is for this test only.
func campusPlan(path string) *plan.Inventory {
	return &plan.Inventory{
		Path: path, Format: "csv", Delimiter: ",",
		Columns: map[string]string{
			"id": "BLDG_UID", "name": "NAME", "lon": "LONG", "lat": "LAT", "year": "OCCU_DATE", "storeys": "MAX_FLOORS",
			"height": "BLDG_HEIGHT", "floor_area": "GBA", "system": "CONSTR_TYPE", "use": "BLDG_USAGE",
		},
		Units: map[string]string{"height": "m", "floor_area": "m2"},
		Values: map[string]map[string]string{
			"system": {"Concrete": "concrete-frame", "Wood": "timber-frame", "Steel": "steel-moment-frame", "OtherMixed": "unknown-mix"},
			"use": {
				"Housing": "apartments", "Academic": "university", "StudentHousing": "hostel", "Services": "civic", "Operations": "plant", "Research": "laboratory",
				"Administrative": "office", "Athletics": "sports-hall", "Commons": "assembly", "Commercial": "shop",
			},
		},
	}
}

// read reads a whole register with one goroutine.
func read(t *testing.T, r *Reader) ([]Building, []Reject, *Report) {
	t.Helper()
	var raw Raw
	var b Batch
	var buildings []Building
	var rejects []Reject
	err := r.Read(&raw, &b)
	for ; err == nil; err = r.Read(&raw, &b) {
		buildings = append(buildings, b.Buildings...)
		rejects = append(rejects, b.Rejects...)
	}
	require.ErrorIs(t, err, io.EOF)
	rep := r.Report()
	require.NoError(t, rep.Tally.Check())
	require.Equal(t, rep.Tally.Buildings, len(buildings))
	require.Equal(t, rep.Tally.Rejects, len(rejects))
	return buildings, rejects, rep
}

func readCampus(t *testing.T, inv *plan.Inventory, opt Options) ([]Building, []Reject, *Report) {
	t.Helper()
	r, err := Open(inv, opt)
	require.NoError(t, err)
	defer r.Close()
	return read(t, r)
}

// The counts are of the file itself: 443 rows, of which 12 have no date, 4 no
// construction type, 3 no area and 1 no height.
func TestCampusAsItIs(t *testing.T) {
	inv := campusPlan(campusFile(t, "buildings.csv"))
	buildings, rejects, rep := readCampus(t, inv, Options{})
	assert.Empty(t, buildings)
	assert.Len(t, rejects, 443)
	assert.Equal(t, 443, rep.Count(SwappedCoordinates), "LAT and LONG are exchanged in every row")
	assert.Contains(t, rejects[0].Error(), "swap = true")
	for f, missing := range map[Field]int{ID: 0, Year: 12, System: 4, FloorArea: 3, Storeys: 0} {
		assert.Equal(t, missing, rep.Missing(f), "rows without %s", f)
	}
}

// Every defect of the register is reported with its count. The counts were taken
// from the file by a program of another language.
func TestCampusDefects(t *testing.T) {
	inv := campusPlan(campusFile(t, "buildings.csv"))
	inv.Swap = true
	inv.Columns["condition"] = "BLDG_CONDITION"
	inv.Assume = map[string]string{"system": "unknown-mix", "floor_area": "500"}
	buildings, _, rep := readCampus(t, inv, Options{})
	assert.Equal(t, 443, rep.Tally.In)
	for f, missing := range map[Field]int{ID: 0, Lon: 0, Lat: 0, Year: 12, System: 4, Condition: 214, FloorArea: 3, Height: 1 + 3, Storeys: 0} {
		assert.Equal(t, missing, rep.Missing(f), "rows without %s", f)
	}
	// Height over storeys: 442 rows have both.
	assert.Equal(t, 3, rep.Count(OutOfRange), "heights below 2 m")
	assert.Equal(t, 20-3, rep.Count(HeightStoreys), "below 2.4 m a storey, the 13-storey residence of 3.46 m among them")
	assert.Equal(t, 51, rep.Count(TallStoreys), "above 6 to 12 m")
	assert.Equal(t, 2, rep.Count(TowerForm), "above 12 m, the clock tower of 33.4 m among them")
	assert.Len(t, buildings, 441)
	assert.Equal(t, 0, rep.Count(DuplicateID))
	assert.Equal(t, 0, rep.Count(AlikeID))
	conditions := map[string]int{}
	for i := range buildings {
		conditions[buildings[i].Condition]++
	}
	assert.Equal(t, map[string]int{"": 214, "Poor": 109, "Good": 49, "Critical": 46, "Fair": 23}, conditions)

	// The same with a name for what the storeys are: above and below ground.
	delete(inv.Columns, "storeys")
	inv.Columns["storeys_total"] = "MAX_FLOORS"
	_, _, rep = readCampus(t, inv, Options{})
	assert.Equal(t, 443, rep.Count(StoreysSplit), "the whole column")

	// One building is many records.
	inv = campusPlan(campusFile(t, "buildings.csv"))
	inv.Swap, inv.Explode, inv.Separator = true, "REC_IDS", ";"
	inv.Assume = map[string]string{"system": "unknown-mix", "floor_area": "500"}
	_, _, rep = readCampus(t, inv, Options{})
	assert.Equal(t, 709, rep.Tally.In, "86 rows list several records, 352 together")
	assert.Equal(t, 352, rep.Count(ListedPart))
}

// The outlines' own defects, and what only outlines show.
func TestCampusOutlines(t *testing.T) {
	inv := campusPlan(campusFile(t, "buildings.geojson"))
	inv.Format = "geojson"
	delete(inv.Columns, "lon")
	delete(inv.Columns, "lat")
	inv.Assume = map[string]string{"system": "unknown-mix"}
	buildings, rejects, rep := readCampus(t, inv, Options{})
	require.Equal(t, 443, rep.Tally.In)
	assert.Len(t, rejects, 2, "towers; no row lacks a floor area: the outline gives it")
	touching, near := 0, 0
	for i := range buildings {
		b := &buildings[i]
		require.GreaterOrEqual(t, b.Touching, 0, b.ID)
		if b.Touching > 0 {
			touching++
			assert.Zero(t, b.Gap)
		}
		if b.Origin[Gap] == Derived {
			near++
			assert.True(t, b.Gap >= 0 && b.Gap <= outline.Reach)
			assert.Contains(t, b.Rule(Gap), "nearest outline")
		}
		assert.GreaterOrEqual(t, b.Aspect(), 1.0)
	}
	t.Logf("%d touch, %d have a neighbour within %g m, %d centroids outside", touching, near, outline.Reach, rep.Count(OutsideOutline))
	assert.Greater(t, touching, 0)
	assert.Greater(t, near, touching)
	assert.Greater(t, rep.Count(OutsideOutline), 0)
}

func TestCampusSwapped(t *testing.T) {
	inv := campusPlan(campusFile(t, "buildings.csv"))
	inv.Swap = true
	cover := orb.Bound{Min: orb.Point{-124, 49}, Max: orb.Point{-122, 50}}
	buildings, rejects, rep := readCampus(t, inv, Options{Coverage: cover, ValuePerArea: 3000})
	assert.Len(t, buildings, 443-len(rejects))
	assert.Greater(t, len(buildings), 400)
	assert.Equal(t, 4, rep.Count(MissingSystem))
	byID := map[string]*Building{}
	for i := range buildings {
		byID[buildings[i].ID] = &buildings[i]
		assert.True(t, cover.Contains(orb.Point{buildings[i].Lon, buildings[i].Lat}))
	}

	b := byID["VBL10219"] // the first row
	require.NotNil(t, b)
	assert.Equal(t, "Crescent West", b.Name)
	assert.Equal(t, 2, b.Line)
	assert.Equal(t, 2009, b.Year) // 20090501
	assert.Equal(t, 4, b.Storeys)
	assert.Equal(t, 14.05, b.Height)
	assert.Equal(t, 5466.0, b.FloorArea)
	assert.Equal(t, Given, b.Origin[Height])
}

// A residence of 13 storeys is listed with a height of 3.46 m: the height is not
// believed, and the row says so.
func TestCampusLowHighrise(t *testing.T) {
	inv := campusPlan(campusFile(t, "buildings.csv"))
	inv.Swap = true
	for _, column := range []string{"storeys", "storeys_total"} {
		delete(inv.Columns, "storeys")
		inv.Columns[column] = "MAX_FLOORS"
		buildings, _, _ := readCampus(t, inv, Options{})
		found := false
		for i := range buildings {
			b := &buildings[i]
			if b.Name != "Acadia Park Residence - Highrise" {
				continue
			}
			found = true
			assert.True(t, b.Flags.Has(HeightStoreys))
			assert.Equal(t, 13, b.Storeys)
			assert.Equal(t, 13*usages[Hostel].storey, b.Height)
			assert.NotEqual(t, Given, b.Origin[Height])
			assert.GreaterOrEqual(t, b.Grade, Grade('C'))
		}
		assert.True(t, found)
	}
}
