package plan

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const sound = `name = "test"
[inventory]
path = "b.csv"
[inventory.columns]
id = "ID"
lon = "X"
lat = "Y"
[hazard]
kind = "grid"
path = "h.csv"
soil_included = true
`

func TestSoundPlan(t *testing.T) {
	p, err := Parse("p.toml", []byte(sound))
	require.NoError(t, err)
	assert.Equal(t, "test", p.Name)
	assert.Equal(t, 475.0, p.Hazard.Design, "a default stays where the file is silent")
	assert.True(t, *p.Hazard.SoilIncluded)
}

func TestPathsAreRelativeToThePlan(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "p.toml")
	require.NoError(t, os.WriteFile(path, []byte(sound), 0o600))
	p, err := Load(path)
	require.NoError(t, err)
	assert.Equal(t, filepath.Join(dir, "b.csv"), p.Inventory.Path)
	assert.Equal(t, filepath.Join(dir, "out"), p.Output.Folder)
}

// Each case is a slip a person makes, what the message must hold, and that it
// points at the right place.
func TestProblems(t *testing.T) {
	cases := []struct{ name, doc, want string }{
		{"unknown key", sound + "sight_class = \"D\"\n", `p.toml:12:1: hazard.sight_class: unknown key; did you mean site_class?`},
		{"wrong kind", sound + "k = \"three\"\n", `p.toml:12:1: hazard.k = "three": wrong kind of value; write a number`},
		{"wrong word", sound + "unit = \"gal\"\n", `p.toml:12:1: hazard.unit = "gal": not a value this key takes;`},
		{"out of range", sound + "max_distance_km = -1\n", `p.toml:12:1: hazard.max_distance_km = -1: out of range; write a number from 0 to 500 km`},
		{"not a number", sound + "k = nan\n", `p.toml:12:1: hazard.k = NaN: out of range`},
		{"scalar for a list", sound + "return_periods_yr = 475\n", `p.toml:12:1: hazard.return_periods_yr = 475: wrong kind of value; write a list of numbers`},
		{"words in a list", sound + "return_periods_yr = [475, \"x\"]\n", `hazard.return_periods_yr = "x": wrong kind of value in the list`},
		{"design not a level", sound + "design_return_period_yr = 500\n", `p.toml:12:1: hazard.design_return_period_yr = 500: not one of return_periods_yr`},
		{"descending", sound + "return_periods_yr = [475, 100]\n", `hazard.return_periods_yr = 100: not ascending`},
		{"syntax", "name = \n", `p.toml:1:`},
		{"twice", "name = \"a\"\nname = \"b\"\n", `p.toml:2:1: `},
		{"table for a word", "name = {a = 1}\n", `p.toml:1:1: name = a table: wrong kind of value; write text in quotes`},
		{"inline table", "inventory = {pth = \"x\"}\n", `p.toml:1:14: inventory.pth: unknown key; did you mean path?`},
		{"nothing", "", `p.toml: inventory.path: missing; write path =`},
		{"single level without k", strings.Replace(sound, `"grid"`, `"constant"`, 1) + "pga = 0.3\nperiods_s=[1]\nsa=[0.5]\n", "hazard.k: missing: one spectrum cannot give other return periods"},
		{"map grid", strings.Replace(sound, `path = "b.csv"`, "path = \"b.csv\"\ncrs = \"EPSG:2193\"", 1), `p.toml:4:1: inventory.crs = "EPSG:2193": not a system of coordinates that is read; write EPSG:4326 or a UTM zone`},
		{"unknown measure", sound + "[measures]\nuse = [\"viscose\"]\n", `p.toml:13:1: measures.use = "viscose": not a measure; did you mean viscous?`},
		{"measure twice", sound + "[measures]\nuse = [\"slider\", \"slider\"]\n", `measures.use = "slider": listed twice`},
		{"unknown region", sound + "[archetypes]\nregion = \"us\"\n", `p.toml:13:1: archetypes.region = "us": not a region of the table of code eras; write one of`},
		{"unknown zone", sound + "[archetypes]\nregion = \"us-west\"\nzone = \"9\"\n", `p.toml:14:1: archetypes.zone = "9": not a zone of region us-west; write one of`},
		{"without an end", sound + "k = inf\n", `p.toml:12:1: hazard.k = +Inf: out of range`},
		{"nested bound", sound + "[measures.viscous]\nalpha = 3\n", `p.toml:13:1: measures.viscous.alpha = 3: out of range; write a number from 0.2 to 1`},
		{"a part's price", sound + "[measures.strengthen-viscous.strengthen.price]\nper_m2 = 90\n", `p.toml:13:1: measures.strengthen-viscous.strengthen.price.per_m2 = 90: a combination has no copy of its parts; write it under [measures.strengthen.price], which strengthen-viscous follows; what both cost together goes under [measures.strengthen-viscous.price]`},
		{"a part's own key", sound + "[measures.strengthen-viscous.strengthen]\nmax_factor = 2\n", `p.toml:13:1: measures.strengthen-viscous.strengthen.max_factor = 2: a combination has no copy of its parts; write it under [measures.strengthen-viscous]`},
		{"a part's range", sound + "[measures.lead-rubber-strengthen.lead-rubber]\nbearing = {shear_strain = 2}\n", `p.toml:13:12: measures.lead-rubber-strengthen.lead-rubber.bearing.shear_strain = 2: a combination has no copy of its parts; write it under [measures.lead-rubber.bearing], which lead-rubber-strengthen follows`},
		{"an empty part", sound + "[measures.strengthen-viscous.viscous]\n", `measures.strengthen-viscous.viscous: a combination has no copy of its parts; take it out`},
		{"a price of nothing it has", sound + "[measures.viscous.price]\nper_m_wall = 1\n", `p.toml:13:1: measures.viscous.price.per_m_wall: unknown key; [measures.viscous.price] has fixed, per_m2, per_device, low_ratio, high_ratio`},
		{"soil", strings.Replace(sound, "soil_included = true", "", 1), "hazard.soil_included: missing"},
	}
	for _, tc := range cases {
		t.Run(tc.name, func(t *testing.T) {
			_, err := Parse("p.toml", []byte(tc.doc))
			require.Error(t, err)
			assert.Contains(t, err.Error(), tc.want)
		})
	}
}

func TestAllProblemsAtOnceInFileOrder(t *testing.T) {
	_, err := Parse("p.toml", []byte("zzz = 1\n[hazard]\nkind = 3\nunit = \"ft\"\n[output]\nformats = [\"xls\"]\n"))
	var ps Problems
	require.ErrorAs(t, err, &ps)
	var lines []int
	for _, p := range ps {
		lines = append(lines, p.Line)
	}
	assert.Equal(t, []int{1, 3, 4, 6, 0, 0, 0, 0, 0}, lines, "what the plan lacks comes last: path, id, lon, lat, soil_included")
}

func TestMissingFile(t *testing.T) {
	_, err := Load(filepath.Join(t.TempDir(), "none.toml"))
	require.ErrorContains(t, err, "none.toml cannot be read: no such file")
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(sound))
	f.Add([]byte("inventory = {columns = {id = \"a\"}}\n[[hazard]]\n"))
	f.Add([]byte("a.b.c = 1\n[measures.viscous]\nx = [[1]]\n"))
	f.Fuzz(func(t *testing.T, doc []byte) {
		p, err := Parse("p.toml", doc)
		if (p == nil) == (err == nil) {
			t.Fatal("a plan or problems, not both or neither")
		}
	})
}

// Every bound, choice and default of the measures' own tags can be written: the default of a
// key lies within its bounds.
func TestDefaultsAreLegal(t *testing.T) {
	for _, k := range Reference() {
		x, err := strconv.ParseFloat(k.Default, 64)
		if err != nil || k.Kind != "number" && k.Kind != "whole number" {
			continue
		}
		assert.GreaterOrEqual(t, x, k.Min, k.Key)
		assert.LessOrEqual(t, x, k.Max, k.Key)
	}
}

// A plan says where a key stands, and what it can of one that it leaves out.
func TestAt(t *testing.T) {
	p, err := Parse("p.toml", []byte(sound+"k = 3\n"))
	require.NoError(t, err)
	assert.Equal(t, "p.toml:12:1: hazard.k", p.At("hazard.k"))
	assert.Equal(t, "p.toml: output.folder", p.At("output.folder"))
	assert.Equal(t, "hazard.k", Default().At("hazard.k"))
}

// A plan that nobody wrote ends at once: a key of a hundred thousand parts, tens of thousands
// of tables, more bytes than a plan has.
func TestAbsurdPlans(t *testing.T) {
	if testing.Short() {
		t.Skip("reads megabytes of plan")
	}
	var tables strings.Builder
	for i := range 20_000 {
		fmt.Fprintf(&tables, "[t%d]\n", i)
	}
	for doc, want := range map[string]string{
		"\n[" + strings.Repeat("a.", 100_000) + "a]\n":        "p.toml:2:34: a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a: a key of more than 16 parts; no key of a plan has more than four",
		"b = 1\n" + strings.Repeat("a.", 100_000) + "a = 1\n": "p.toml:2:33: a.a.a.a",
		"x = {" + strings.Repeat("a.", 100_000) + "a = 1}\n":  "a key of more than 16 parts",
		"x = " + strings.Repeat("{a = ", 100_000):             "p.toml:1",
		tables.String(): "p.toml:1:2: t0: unknown key",
		"#" + strings.Repeat("plan ", 1<<20) + "\nname = \"a\"": "p.toml: more than 4 MB, which is no plan",
	} {
		start := time.Now()
		_, err := Parse("p.toml", []byte(doc))
		require.ErrorContains(t, err, want)
		assert.Less(t, time.Since(start), 20*time.Second, "it took minutes")
	}
	path := filepath.Join(t.TempDir(), "p.toml")
	require.NoError(t, os.WriteFile(path, make([]byte, mostBytes+5), 0o600))
	_, err := Load(path)
	require.ErrorContains(t, err, "more than 4 MB")
}

// Three hundred damaged copies of a plan are plans or problems that say what to do.
func TestDamagedPlans(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	refused := 0
	for range 300 {
		doc := []byte(sound)
		for range 1 + r.IntN(8) {
			doc[r.IntN(len(doc))] = byte(r.Uint32())
		}
		p, err := Parse("p.toml", doc[:len(doc)-r.IntN(2)*r.IntN(len(doc))])
		require.True(t, (p == nil) != (err == nil))
		var ps Problems
		if err != nil {
			require.ErrorAs(t, err, &ps)
			refused++
		}
		for _, p := range ps {
			require.NotEmpty(t, p.Rule)
			require.NotEmpty(t, p.Remedy)
		}
	}
	assert.Greater(t, refused, 200)
}
