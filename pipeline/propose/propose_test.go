package propose_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"plinth/pipeline/assess"
	"plinth/pipeline/plan"
	"plinth/pipeline/propose"
	"plinth/pipeline/sample"
	"plinth/pipeline/screen"
)

// checked proposes a plan for a register and checks the register by that plan, unedited.
func checked(t *testing.T, register string) (doc string, p *plan.Plan, c *screen.Check) {
	t.Helper()
	found, err := propose.Look(context.Background(), register)
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "plan.toml")
	doc = string(found.TOML(register))
	require.NoError(t, os.WriteFile(path, []byte(doc), 0o600))
	again, err := propose.Look(context.Background(), register)
	require.NoError(t, err)
	require.Equal(t, doc, string(again.TOML(register)), "the same register gives the same plan")
	p, err = plan.LoadRegister(path)
	require.NoError(t, err, doc)
	_, err = plan.Load(path)
	require.ErrorContains(t, err, "hazard.kind: missing", "nothing but a check runs without a hazard")
	study, err := assess.Open(p)
	require.NoError(t, err, doc)
	c, err = screen.CheckRegister(context.Background(), study)
	require.NoError(t, err, doc)
	var said strings.Builder
	require.NoError(t, c.Write(&said))
	assert.Contains(t, said.String(), "the plan names none, so the register alone was read")
	return doc, p, c
}

// The plan proposed for the demo's register maps the columns, the units and all but one of
// the words that the demo's own plan maps.
func TestDemo(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, sample.Write(context.Background(), dir, sample.Buildings, false))
	own, err := plan.Load(filepath.Join(dir, sample.PlanFile))
	require.NoError(t, err)
	_, p, c := checked(t, own.Inventory.Path)
	assert.Equal(t, own.Inventory.Columns, p.Inventory.Columns)
	assert.Equal(t, own.Inventory.Units, p.Inventory.Units)
	for field, words := range own.Inventory.Values {
		for theirs, ours := range words {
			assert.Equal(t, ours, p.Inventory.Values[field][theirs], "%s %s", field, theirs)
		}
	}
	assert.Equal(t, int64(240), c.Counts().In)
	assert.Greater(t, c.Usable(), int64(230))
}

// The open campus register (UBC geospatial open data, PDDL 1.0): longitude and latitude stand
// in each other's columns, and its words are of materials, of which three say no system.
func TestCampus(t *testing.T) {
	root := os.Getenv("PLINTH_SHARED")
	if root == "" {
		root = filepath.Join("..", "..", "..", "shared")
	}
	root, err := filepath.Abs(root)
	require.NoError(t, err)
	register := filepath.Join(root, "data", "campus", "buildings.csv")
	if _, err := os.Stat(register); err != nil {
		t.Skipf("the campus register is not here (%v); PLINTH_SHARED may name its folder", err)
	}
	doc, p, c := checked(t, register)
	assert.True(t, p.Inventory.Swap)
	for field, column := range map[string]string{
		"id": "BLDG_UID", "name": "NAME", "lon": "LONG", "lat": "LAT", "year": "OCCU_DATE", "storeys": "MAX_FLOORS",
		"height": "BLDG_HEIGHT", "floor_area": "GBA", "system": "CONSTR_TYPE", "use": "BLDG_USAGE",
	} {
		assert.Equal(t, column, p.Inventory.Columns[field], field)
	}
	assert.Contains(t, doc, `# "Concrete" = "" # 208, TO DO`)
	assert.Equal(t, "timber-frame", p.Inventory.Values["system"]["Wood"])
	assert.Equal(t, int64(443), c.Counts().In)
	assert.Greater(t, c.Usable(), int64(430))
}

// A workbook as offices keep them: a sheet of remarks first, titles above the header, names
// of columns in German with units, decimal numbers, a row of totals.
func TestOfficeWorkbook(t *testing.T) {
	f := excelize.NewFile()
	require.NoError(t, f.SetSheetName("Sheet1", "Hinweise"))
	_, err := f.NewSheet("Liste")
	require.NoError(t, err)
	set := func(sheet string, row int, cells ...any) {
		require.NoError(t, f.SetSheetRow(sheet, fmt.Sprintf("A%d", row), &cells))
	}
	set("Hinweise", 1, "Stand der Daten", "2024")
	set("Hinweise", 2, "Fragen an", "das Amt")
	set("Liste", 1, "Liegenschaften der Stadt Neuwasser")
	require.NoError(t, f.MergeCell("Liste", "A1", "I1"))
	set("Liste", 2, "Stand", 2024)
	set("Liste", 4, "Objekt-Nr", "Bezeichnung", "Longitude", "Latitude", "Baujahr", "Geschosse", "Hoehe (m)",
		"BGF m²", "Bauart", "Nutzung")
	for i := range 40 {
		n := 2 + i%4
		set("Liste", 5+i, fmt.Sprintf("%04d", i+1), fmt.Sprintf("Haus %d", i), -140.5+0.001*float64(i)+0.00005,
			40.25+0.00013*float64(i)+0.00001, 1900+i*2, n, 3.1*float64(n), 250.5*float64(n),
			[]string{"Mauerwerk", "Holz", "Stahlbeton"}[i%3], []string{"Schule", "Verwaltung"}[i%2])
	}
	set("Liste", 45, "Summe", nil, nil, nil, nil, nil, nil, 99999.5)
	register := filepath.Join(t.TempDir(), "liste.xlsx")
	require.NoError(t, f.SaveAs(register))

	doc, p, c := checked(t, register)
	assert.Equal(t, "Liste", p.Inventory.Sheet)
	assert.Contains(t, doc, "the header stands on line 4; above it 3 lines were passed over")
	assert.Contains(t, doc, "line 45, the last, was taken for a row of totals")
	assert.Equal(t, map[string]string{"id": "Objekt-Nr", "name": "Bezeichnung", "lon": "Longitude", "lat": "Latitude",
		"year": "Baujahr", "storeys": "Geschosse", "height": "Hoehe (m)", "floor_area": "BGF m²", "system": "Bauart",
		"use": "Nutzung"}, p.Inventory.Columns)
	assert.Equal(t, map[string]string{"height": "m", "floor_area": "m²"}, p.Inventory.Units)
	assert.Equal(t, "masonry-unreinforced", p.Inventory.Values["system"]["Mauerwerk"])
	assert.Contains(t, doc, `# "Stahlbeton" = "" # 13, TO DO`)
	assert.Equal(t, int64(40), c.Counts().In)
	assert.Equal(t, int64(40), c.Usable())
}

// Units that no name says are taken from the size of a storey, and said to be doubtful; a
// decimal comma is found; a bare register says what it lacks.
func TestDoubtful(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		want []string
	}{
		"feet": {"id,lon,lat,floors,height,area\nA,-140.5,40.5,2,24,900\nB,-140.6,40.5,3,37,900\n",
			[]string{`height = "ft" # CHECK: no unit in its name; ft because a storey would be 12 high`}},
		"comma": {"Register;;;\nid;lon;lat;area m2\nA;-140,51;40,52;900,5\nB;-140,61;40,53;900,5\n",
			[]string{`decimal = ","`, `delimiter = ";"`, `# system = "" # TO DO: no column was found for it`}},
		"words": {"key;what;lon;lat;storeys;area m2\nA;timber-frame;-140.5;40.5;2;90\nB;timber-frame;-140.51;40.5;2;90\n",
			[]string{`system = "what" # filled in 2 of 2 rows; taken by its values, not by its name: look`}},
	} {
		path := filepath.Join(t.TempDir(), "r.csv")
		require.NoError(t, os.WriteFile(path, []byte(c.text), 0o600))
		doc, _, _ := checked(t, path)
		for _, want := range c.want {
			assert.Contains(t, doc, want, name)
		}
	}
}

// What a header may say harms neither the plan nor the terminal.
func TestHarmless(t *testing.T) {
	path := filepath.Join(t.TempDir(), "r.csv")
	text := "id,lon,lat,\"area\nm2\",\"evil \x1b[31m\",\"name\"\"\\\"\nA,-140.5,40.5,90,x,\"a\"\"b\"\nB,-140.51,40.5,90,y,c\n"
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	doc, p, _ := checked(t, path)
	assert.NotContains(t, doc, "\x1b")
	assert.Equal(t, "area\nm2", p.Inventory.Columns["floor_area"])
	found, err := propose.Look(context.Background(), path)
	require.NoError(t, err)
	var said strings.Builder
	require.NoError(t, found.Write(&said))
	assert.NotContains(t, said.String(), "\x1b")
}
