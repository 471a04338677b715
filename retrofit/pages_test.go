package retrofit

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The pages of docs/measures and the measures each is about.
var pages = map[string][]string{
	"lead-rubber.md": {"lead-rubber"}, "slider.md": {"slider"}, "viscous.md": {"viscous"},
	"yielding.md":   {"yielding"},
	"tuned-mass.md": {"tuned-mass"}, "strengthen.md": {"strengthen"},
	"combinations.md": {"strengthen-viscous", "lead-rubber-strengthen"},
}

// Each page describes its measures in the program's words and shows the program's rules,
// between markers, so that the two cannot differ.
func TestPagesAgreeWithTheProgram(t *testing.T) {
	seen := map[string]bool{"none": true}
	for name, slugs := range pages {
		text, err := os.ReadFile(filepath.Join("..", "docs", "measures", name))
		require.NoError(t, err)
		page := string(text)
		for _, slug := range slugs {
			seen[slug] = true
			d, ok := KindOf(slug)
			require.True(t, ok)
			page = between(t, page, "about "+slug, fmt.Sprintf("%s\n\n*Cannot:* %s\n", d.Does, d.Cannot))
			page = between(t, page, "rules "+slug, rulesTable(slug))
		}
		checkFile(t, name, []byte(page))
	}
	for _, d := range Kinds() {
		require.True(t, seen[d.Slug], "%s has no page", d.Slug)
	}
}

// between puts text between the two marks of a name.
func between(t *testing.T, page, name, text string) string {
	t.Helper()
	begin, end := "<!-- "+name+" -->\n", "<!-- end of "+name+" -->\n"
	head, rest, ok := strings.Cut(page, begin)
	require.True(t, ok, begin)
	_, tail, ok := strings.Cut(rest, end)
	require.True(t, ok, end)
	return head + begin + text + end + tail
}

// rulesTable returns the default rules of a measure as a table.
func rulesTable(slug string) string {
	var b strings.Builder
	b.WriteString("| rule | looks at | note | doubt | bar | source |\n| --- | --- | --- | --- | --- | --- |\n")
	for _, r := range rulesOf(slug) {
		what := spoken(r.Criterion)
		if r.When != 0 {
			what += " (where " + spoken(r.When) + ")"
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s | %s |\n", r.Name, what, r.cell(r.Note), r.cell(r.Doubt), r.cell(r.Bar),
			r.Source)
	}
	return b.String()
}

// cell returns a limit as a person reads it: "below 3", "is yes", "below 1 x
// total displacement".
func (r *Rule) cell(limit float64) string {
	if math.IsNaN(limit) {
		return ""
	}
	value := string(appendValue(nil, limit, r.Criterion.Unit()))
	if r.Against != 0 {
		value = string(appendRounded(nil, limit)) + " x " + spoken(r.Against)
	}
	return r.Compare.String() + " " + value
}

// spoken returns the slug of a criterion as words.
func spoken(c Criterion) string { return strings.ReplaceAll(c.String(), "-", " ") }
