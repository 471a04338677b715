package archetypes

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestParseSystem(t *testing.T) {
	for _, s := range Systems() {
		got, err := ParseSystem(s.String())
		require.NoError(t, err)
		assert.Equal(t, s, got)
	}
	// Common building types of ASCE 41-17 Table 3-1, from memory.
	for word, want := range map[string]System{
		"C1": ConcreteFrame, "c2a": ConcreteWall, "URM": MasonryUnreinforced, "W1": TimberFrame,
		" S2 ": SteelBracedFrame,
		"PC1":  PrecastPanel, "Concrete-Frame": ConcreteFrame,
	} {
		got, err := ParseSystem(word)
		require.NoError(t, err, word)
		assert.Equal(t, want, got, word)
	}
	for _, word := range []string{"", "brick", "C9"} {
		_, err := ParseSystem(word)
		assert.ErrorContains(t, err, "map the word", word)
	}
}

func TestParseRegionAndZone(t *testing.T) {
	var zero Region
	assert.Equal(t, "generic", Default().Regions()[zero])
	for _, slug := range []string{"us-west", "new-zealand", "japan", "italy", "greece", "turkey", "generic"} {
		r, err := Default().ParseRegion(slug)
		require.NoError(t, err)
		for i, z := range Default().Zones(r) {
			got, err := Default().ParseZone(r, z)
			require.NoError(t, err)
			assert.Equal(t, Zone(i+1), got)
		}
	}
	_, err := Default().ParseRegion("atlantis")
	assert.ErrorContains(t, err, "us-west")
	_, err = Default().ParseZone(zero, "9")
	assert.ErrorContains(t, err, "moderate")
}

// TestSourcesEverywhere: every quantity of every system names its source.
func TestSourcesEverywhere(t *testing.T) {
	for _, s := range Systems() {
		for _, q := range quantities {
			source, _, ok := Default().Traits(s).Source(q.name)
			assert.True(t, ok && source != "", "%v %s", s, q.name)
		}
	}
	_, _, ok := Default().Traits(ConcreteFrame).Source("colour")
	assert.False(t, ok)
}

func TestOverrideSystems(t *testing.T) {
	own, err := Default().WithSystems(strings.NewReader(
		"system,quantity,value,source,confidence\nconcrete-frame,weight_kpa,13.5,survey of this "+
			"campus,medium\nany,storey_height_m,3.9,survey of this campus,medium\n"), "own.csv")
	require.NoError(t, err)
	assert.Equal(t, 13.5, own.Traits(ConcreteFrame).WeightArea)
	assert.Equal(t, 10.0, Default().Traits(ConcreteFrame).WeightArea, "the embedded table stays")
	assert.Equal(t, 3.9, own.Traits(ConcreteWall).StoreyHeight)
	assert.Equal(t, 3.8, own.Traits(SteelMomentFrame).StoreyHeight, "a system's own row wins over any")
	d := eightStoreys()
	var a Archetype
	require.NoError(t, own.Assign(&d, &a))
	assert.Equal(t, "survey of this campus", a.Basis[WeightValue].Source)
}

func TestOverrideEras(t *testing.T) {
	own, err := Default().WithEras(strings.NewReader(strings.Join(eraHeader, ",")+
		"\nisland,only,1970,1999,flat,c=0.05,allowable,1.4,,non-ductile,island by-law "+
		"12,medium\nisland,only,2000,,flat,c=0.1,strength,1,2,ductile,island by-law 40,high\n"),
		"own.csv")
	require.NoError(t, err)
	d := eightStoreys()
	d.Region, err = own.ParseRegion("island")
	require.NoError(t, err)
	d.Year = 2005
	var a Archetype
	require.NoError(t, own.Assign(&d, &a))
	assert.InDelta(t, 0.2, a.StrengthRatio, 1e-12)
	_, err = Default().ParseRegion("island")
	assert.Error(t, err, "the embedded table stays")
}

func TestTableErrors(t *testing.T) {
	for name, c := range map[string]struct {
		table  string
		line   int
		column string
	}{
		"empty":  {"", 0, ""},
		"header": {"a,b\n", 1, ""},
		"unknown system": {"system,quantity,value,source,confidence\nbrick,weight_kpa,9,x,low\n", 2,
			"system"},
		"quantity":     {"system,quantity,value,source,confidence\nany,colour,9,x,low\n", 2, "quantity"},
		"not a number": {"system,quantity,value,source,confidence\nany,weight_kpa,NaN,x,low\n", 2, "value"},
		"out of range": {"system,quantity,value,source,confidence\nany,weight_kpa,900,x,low\n", 2, "value"},
		"no source":    {"system,quantity,value,source,confidence\nany,weight_kpa,9, ,low\n", 2, "source"},
		"confidence": {"system,quantity,value,source,confidence\nany,weight_kpa,9,x,sure\n", 2,
			"confidence"},
		"twice": {"system,quantity,value,source,confidence\nany,weight_kpa,9,x,low\n" +
			"any,weight_kpa,8,x,low\n", 3, "quantity"},
		"short row": {"system,quantity,value,source,confidence\nany,weight_kpa\n", 2, ""},
		"limits": {"system,quantity,value,source,confidence\nconcrete-frame,drift_ls,0.001,x,low\n",
			0, ""},
		"minimum": {"system,quantity,value,source,confidence\nconcrete-frame,minimum_strength,0.9,x,low\n", 0,
			""},
	} {
		_, err := Default().WithSystems(strings.NewReader(c.table), "own.csv")
		requireTableError(t, err, name, c.line, c.column)
	}
	_, err := new(Tables).WithSystems(strings.NewReader("system,quantity,value,source,confidence\n"),
		"own.csv")
	requireTableError(t, err, "a table without rows", 0, "")

	head := strings.Join(eraHeader, ",") + "\n"
	for row, column := range map[string]string{
		",z,1970,,flat,c=1,strength,1,,ductile,x,low":                              "region",
		"r,,1970,,flat,c=1,strength,1,,ductile,x,low":                              "zone",
		"r,z,then,,flat,c=1,strength,1,,ductile,x,low":                             "from_year",
		"r,z,1970,1960,flat,c=1,strength,1,,ductile,x,low":                         "to_year",
		"r,z,1970,,sharp,c=1,strength,1,,ductile,x,low":                            "rule",
		"r,z,1970,,flat,c=x,strength,1,,ductile,x,low":                             "parameters",
		"r,z,1970,,flat,,strength,1,,ductile,x,low":                                "parameters",
		"r,z,1970,,flat,c=1 c=1,strength,1,,ductile,x,low":                         "parameters",
		"r,z,1970,,flat,c=1 essential=0.8,strength,1,,ductile,x,low":               "parameters",
		"r,z,1970,,flat,c=1 essential=1.5 essential=1.5,strength,1,,ductile,x,low": "parameters",
		"r,z,1970,,flat,c=1 by-place=2,strength,1,,ductile,x,low":                  "parameters",
		"r,z,1970,,flat,c=1 ordinary=1.2,strength,1,,ductile,x,low":                "parameters",
		"r,z,1970,,flat,c=1,elastic,1,,ductile,x,low":                              "level",
		"r,z,1970,,flat,c=1,strength,1.4,,ductile,x,low":                           "to_strength",
		"r,z,1970,,flat,c=1,strength,1,0.5,ductile,x,low":                          "overstrength",
		"r,z,1970,,flat,c=1,strength,1,,brittle,x,low":                             "detailing",
		"r,z,1970,,flat,c=1,strength,1,,ductile,,low":                              "source",
		"r,z,1970,,flat,c=1,strength,1,,ductile,x,likely":                          "confidence",
		"r,z,1970,,flat,c=1,strength,1,,ductile,\"x\ny\",sure":                     "confidence",
	} {
		_, err := Default().WithEras(strings.NewReader(head+row+"\n"), "own.csv")
		requireTableError(t, err, row, 2, column)
	}
	gap := "r,z,1960,1969,flat,c=1,strength,1,,ductile,x,low\nr,z,1975,,flat,c=1,strength,1,,ductile,x,low\n"
	_, err = Default().WithEras(strings.NewReader(head+gap), "own.csv")
	requireTableError(t, err, "gap", 3, "from_year")
	_, err = Default().WithEras(strings.NewReader(head+gap[:strings.Index(gap, "\n")+1]), "own.csv")
	requireTableError(t, err, "closed", 0, "")
}

func requireTableError(t *testing.T, err error, name string, line int, column string) {
	t.Helper()
	var te *TableError
	require.ErrorAs(t, err, &te, name)
	assert.Equal(t, line, te.Line, name)
	assert.Equal(t, column, te.Column, name)
	assert.True(t, strings.HasPrefix(te.Error(), "own.csv"), te.Error())
}

// Any table is either refused with a *TableError or gives tables that Assign can use for every
// system.
func FuzzWithSystems(f *testing.F) {
	f.Add(systemsCSV[:600]) // ends within a row; the whole table would slow the fuzzer down
	f.Add("system,quantity,value,source,confidence\nany,weight_kpa,13.5,survey,medium\n")
	f.Add("\ufeffsystem,quantity,value,source,confidence\r\nany,weight_kpa,\"1,5\",x,low\n")
	f.Fuzz(func(t *testing.T, s string) {
		tables, err := Default().WithSystems(strings.NewReader(s), "fuzz.csv")
		usable(t, tables, err)
	})
}

func FuzzWithEras(f *testing.F) {
	f.Add(erasCSV[:600])
	f.Add(strings.Join(eraHeader, ",") + "\nr,z,1970,,flat,c=0.1,strength,1,,ductile,x,low\n")
	f.Add(strings.Join(eraHeader, ",") +
		"\ngeneric,low,1970,,asce-7,sds=0 sd1=0 s1=0 tl=0,strength,1,,ductile,x,low\n")
	f.Fuzz(func(t *testing.T, s string) {
		tables, err := Default().WithEras(strings.NewReader(s), "fuzz.csv")
		usable(t, tables, err)
	})
}

func usable(t *testing.T, tables *Tables, err error) {
	if err != nil {
		var te *TableError
		if !errors.As(err, &te) {
			t.Fatalf("%T: %v", err, err)
		}
		return
	}
	d := Unknown()
	d.Storeys = 4
	for _, sys := range Systems() {
		for r := range tables.Regions() {
			for z := range tables.Zones(Region(r)) {
				d.System, d.Region, d.Zone, d.Year = sys, Region(r), Zone(z+1), 2005
				var a Archetype
				if err := tables.Assign(&d, &a); err != nil {
					t.Fatal(err)
				}
				if !(a.StrengthRatio > 0 && a.Period > 0 && a.Weight > 0) {
					t.Fatalf("%+v", a)
				}
			}
		}
	}
}
