package output

import (
	"flag"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", os.Getenv("UPDATE") != "", "rewrite docs/data-dictionary.md")

// TestDictionary fails if docs/data-dictionary.md is not what the tables say;
// go test ./pipeline/output -update rewrites it.
func TestDictionary(t *testing.T) {
	const path = "../../docs/data-dictionary.md"
	var b strings.Builder
	require.NoError(t, WriteDictionary(&b))
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(b.String()), 0o644))
	}
	got, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, b.String(), string(got), "run: go test ./pipeline/output -run Dictionary -update")
}

func TestTables(t *testing.T) {
	checkTable(t, &Candidates)
	checkTable(t, &Buildings)
	checkTable(t, &Verdicts)
	checkTable(t, &Rejects)
}

// checkTable holds a table to the rules of its names and to itself.
func checkTable[R any](t *testing.T, table *Table[R]) {
	// Ending of a name by the unit of its column; a unit not listed has none.
	ending := map[string]string{"m": "_m", "m2": "_m2", "s": "_s", "g": "_g", "%": "_pct", "1/yr": "_per_yr", "yr": "_yr", "weeks": "_weeks"}
	bare := []string{"", "currency", "currency/yr", "degrees", "persons", "d"}
	name := regexp.MustCompile(`^[a-z][a-z0-9_]*$`)
	seen := map[string]bool{}
	var row R
	table.Blank(&row)
	places := map[any]string{}
	for i := range table.Columns {
		c := &table.Columns[i]
		at := table.Name + "." + c.Name
		require.Regexp(t, name, c.Name)
		require.False(t, seen[c.Name], "%s stands twice", at)
		seen[c.Name] = true
		require.NotEmpty(t, c.Doc, at)
		require.NotContains(t, c.Doc, "|", at)
		if end, ok := ending[c.Unit]; ok {
			require.True(t, strings.HasSuffix(c.Name, end), "%s in %s must end in %s", at, c.Unit, end)
		} else {
			require.Contains(t, bare, c.Unit, at)
			for _, end := range ending {
				require.False(t, strings.HasSuffix(c.Name, end), "%s ends in %s and has no such unit", at, end)
			}
		}

		kinds := 0
		var place any
		if c.Float != nil {
			kinds, place = kinds+1, c.Float(&row)
		}
		if c.Text != nil {
			kinds, place = kinds+1, c.Text(&row)
		}
		if c.Int != nil {
			kinds, place = kinds+1, c.Int(&row)
		}
		if c.Bool != nil {
			kinds, place = kinds+1, c.Bool(&row)
		}
		require.Equal(t, 1, kinds, "%s must have one accessor", at)
		require.Empty(t, places[place], "%s shares its place in the row", at)
		places[place] = at
		require.Equal(t, c.Bool == nil, c.missing(&row), "%s after Blank", at)
	}
	require.NotNil(t, table.column(table.ID).Text, "%s: id column", table.Name)
	for _, k := range table.Key {
		require.True(t, table.column(k).Required, "%s: key %s", table.Name, k)
	}
	if table.Point {
		require.NotNil(t, table.column("lon").Float)
		require.NotNil(t, table.column("lat").Float)
	}
}

func TestRequired(t *testing.T) {
	var v Verdict
	Verdicts.Blank(&v)
	v.BuildingID, v.Measure, v.Verdict = "007", "viscous", "bar"
	err := NewCSV(&strings.Builder{}, &Verdicts).Write(&v)
	require.EqualError(t, err, `output verdicts, building "007": column rule must have a value and has none`)
	v.Rule = "clearance"
	require.NoError(t, NewCSV(&strings.Builder{}, &Verdicts).Write(&v))
}
