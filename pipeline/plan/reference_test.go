package plan

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// explanations returns the comments of struct fields by the name of the field, such as
// plinth/retrofit.Price.Fixed, of every package that declares keys of a plan. The comment of a
// key's field is its explanation in the plan reference.
func explanations(t *testing.T) map[string]string {
	t.Helper()
	out := make(map[string]string)
	read := make(map[string]bool)
	for _, k := range Reference() {
		dir := path.Dir(k.Field)
		name, _, _ := strings.Cut(path.Base(k.Field), ".")
		pkg := path.Join(dir, name)
		if read[pkg] {
			continue
		}
		read[pkg] = true
		files, err := filepath.Glob(filepath.Join("..", "..", strings.TrimPrefix(pkg, "plinth/"), "*.go"))
		require.NoError(t, err)
		require.NotEmpty(t, files, pkg)
		for _, f := range files {
			fieldComments(t, pkg, f, out)
		}
	}
	return out
}

// fieldComments adds the comments of the struct fields in a file of package pkg to out, each as
// one line.
func fieldComments(t *testing.T, pkg, file string, out map[string]string) {
	t.Helper()
	tree, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ParseComments)
	require.NoError(t, err)
	ast.Inspect(tree, func(n ast.Node) bool {
		spec, ok := n.(*ast.TypeSpec)
		if !ok {
			return true
		}
		if s, ok := spec.Type.(*ast.StructType); ok {
			for _, f := range s.Fields.List {
				for _, name := range f.Names {
					field := pkg + "." + spec.Name.Name + "." + name.Name
					out[field] = strings.Join(strings.Fields(f.Doc.Text()), " ")
				}
			}
		}
		return false
	})
}

// Every key is explained by the comment of its field, in words that fit into a table.
func TestEveryKeyIsExplained(t *testing.T) {
	texts := explanations(t)
	for _, k := range Reference() {
		assert.NotEmpty(t, texts[k.Field], "%s: write a comment above the field %s", k.Key, k.Field)
		assert.NotContains(t, texts[k.Field], "|", k.Key)
	}
}

// Only keys that take numbers have a range in the reference, and the ceiling of all numbers is none.
func TestRangesAreOfNumbers(t *testing.T) {
	want := map[string]string{
		"inventory.path": "", "inventory.swap": "", "inventory.null": "", "inventory.columns": "",
		"hazard.soil_included": "", "hazard.k": "0 to 10", "hazard.return_periods_yr": "1 to 100000",
		"hazard.pga": "0 or more", "measures.viscous.price.fixed": "0 or more",
		"measures.slider.upper_bound": "1 to 5",
	}
	for _, k := range Reference() {
		if bounds, ok := want[k.Key]; ok {
			assert.Equal(t, bounds, k.bounds(), k.Key)
			delete(want, k.Key)
		}
		assert.NotContains(t, k.bounds(), "1e+15", k.Key)
	}
	assert.Empty(t, want, "these are no keys")
}

// TestReferencePage keeps docs/plan.md as the program says it; UPDATE=1 rewrites it.
func TestReferencePage(t *testing.T) {
	path := filepath.Join("..", "..", "docs", "plan.md")
	want := markdown(t)
	if os.Getenv("UPDATE") != "" {
		require.NoError(t, os.WriteFile(path, []byte(want), 0o644))
	}
	page, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.True(t, want == string(page), "docs/plan.md is not what the program says; run `make docs`")
}

// The page of the reference is itself a plan: its tables in the order they are printed, each
// once, every key with its default. What only the owner can know is written in.
func TestReferencePageIsAPlan(t *testing.T) {
	owner := map[string]string{
		"inventory.path": `"b.csv"`, "inventory.columns": `{id = "ID", lon = "X", lat = "Y"}`,
		"hazard.kind": `"grid"`, "hazard.path": `"h.csv"`, "hazard.soil_included": "true",
	}
	var doc strings.Builder
	table, tables := "", map[string]bool{}
	for line := range strings.Lines(markdown(t)) {
		if name, ok := strings.CutPrefix(line, "## ["); ok {
			table = name[:strings.IndexByte(name, ']')]
			require.False(t, tables[table], "[%s] is printed twice", table)
			tables[table] = true
			fmt.Fprintf(&doc, "[%s]\n", table)
			continue
		}
		cells := strings.Split(strings.ReplaceAll(line, `\|`, "/"), " | ")
		key, ok := strings.CutPrefix(cells[0], "| `")
		if !ok {
			continue
		}
		key = strings.TrimSuffix(key, "`")
		if len(cells) < 6 { // of what most plans say
			continue
		}
		value := cells[4]
		if said := owner[join(table, key)]; said != "" {
			value = said
		}
		if value != "" {
			fmt.Fprintf(&doc, "%s = %s\n", key, value)
		}
	}
	p, err := Parse("plan.toml", []byte(doc.String()))
	require.NoError(t, err, doc.String())
	want, err := Parse("plan.toml", []byte(strings.Replace(sound, `name = "test"`, "", 1)))
	require.NoError(t, err)
	assert.Equal(t, want.Effective(), p.Effective(), "what is printed is what holds where a plan is silent")
	assert.True(t, tables["measures.viscous"])
}

// markdown returns the plan reference as a page: a table for each table of keys.
func markdown(t *testing.T) string {
	t.Helper()
	texts := explanations(t)
	var b strings.Builder
	b.WriteString("# Plan reference\n\n" +
		"Made from the program by its tests; do not edit. A plan is strict TOML: an unknown key is an error. " +
		"No key is without effect, and a combination of measures has no copies of the keys of its parts. " +
		"Paths are relative to the plan file. `plinth sample DIR` writes a plan to start from. " +
		fmt.Sprintf("A plan has at most %d MB, and a dotted key at most %d parts.\n", mostBytes>>20, mostParts))
	keys := Reference()
	b.WriteString(first(keys, texts))
	table := "-"
	for _, k := range keys {
		above, name := "", k.Key
		if i := strings.LastIndexByte(k.Key, '.'); i >= 0 {
			above, name = k.Key[:i], k.Key[i+1:]
		}
		if above != table {
			table = above
			if above != "" {
				fmt.Fprintf(&b, "\n## [%s]\n", above)
			}
			b.WriteString("\n| key | kind | range | unit | default | meaning |\n")
			b.WriteString("| --- | --- | --- | --- | --- | --- |\n")
		}
		doc := texts[k.Field]
		if k.Choices != "" {
			doc += ". One of: " + k.Choices
		}
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s | %s |\n", name, k.Kind, k.bounds(), k.Unit, k.cell(), doc)
	}
	return b.String()
}

// bounds returns the range of a key in words. The ceiling that every number has goes without saying.
func (k *Key) bounds() string {
	switch {
	case k.Min <= -ceiling && k.Max >= ceiling:
		return ""
	case k.Max >= ceiling:
		return fmt.Sprintf("%g or more", k.Min)
	}
	return fmt.Sprintf("%g to %g", k.Min, k.Max)
}

// cell returns the default as a cell of a table.
func (k *Key) cell() string { return strings.ReplaceAll(k.Default, "|", `\|`) }

// common are the keys that most plans write, in the order they are usually thought of.
var common = []string{
	"name", "inventory.path", "inventory.format", "inventory.columns", "inventory.units", "inventory.values",
	"hazard.kind", "hazard.path", "hazard.unit", "hazard.soil_included", "hazard.site_class",
	"archetypes.region", "archetypes.zone", "measures.use", "measures.currency", "measures.price_date",
	"consequence.life_yr", "consequence.discount_rate", "consequence.value_per_m2", "objective.rank_by",
	"budget.yearly", "uncertainty.draws", "output.folder", "output.formats",
}

// first returns the keys that most plans write, as a table. Each is explained below it.
func first(keys []Key, texts map[string]string) string {
	var b strings.Builder
	b.WriteString("\n## What most plans say\n\nAll else has a default that serves a first run.\n\n")
	b.WriteString("| key | default | meaning |\n| --- | --- | --- |\n")
	for _, name := range common {
		k := keys[slices.IndexFunc(keys, func(k Key) bool { return k.Key == name })]
		short, _, _ := strings.Cut(texts[k.Field], ";")
		fmt.Fprintf(&b, "| `%s` | %s | %s |\n", k.Key, k.cell(), short)
	}
	b.WriteString("\n## All keys\n")
	return b.String()
}
