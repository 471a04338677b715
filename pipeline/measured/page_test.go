package measured

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// root is the root of the repository, seen from here.
const root = "../.."

// folder is what the page is made from.
var folder = os.DirFS(filepath.Join(root, "testdata", "measured"))

// compareOnce compares once for all tests.
var compareOnce = sync.OnceValues(func() (*Comparison, error) { return Compare(folder) })

func comparison(t *testing.T) *Comparison {
	t.Helper()
	c, err := compareOnce()
	require.NoError(t, err)
	return c
}

// TestPageIsCurrent: the page and the lines made from it are those of today's program, to
// the byte. UPDATE=1 writes them, as make measured does.
func TestPageIsCurrent(t *testing.T) {
	c := comparison(t)
	var page bytes.Buffer
	require.NoError(t, c.Write(&page))
	path := filepath.Join(root, "docs", "measured.md")
	if os.Getenv("UPDATE") != "" {
		require.NoError(t, os.WriteFile(path, page.Bytes(), 0o666))
		require.NoError(t, c.WriteLine(root))
	}
	have, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(have), page.String(), "run make measured and read what changed")

	line, err := os.ReadFile(filepath.Join(root, reportFile))
	require.NoError(t, err)
	assert.Equal(t, c.Line()+"\n", string(line), "run make measured")
	limits, err := os.ReadFile(filepath.Join(root, limitsFile))
	require.NoError(t, err)
	want, ok := c.InLimits(string(limits))
	require.True(t, ok, "%s has no paragraph that begins with %q", limitsFile, lineStart)
	assert.Equal(t, want, string(limits), "run make measured")
}

// TestPageDoesNotDependOnTheRun: a second comparison writes the same bytes.
func TestPageDoesNotDependOnTheRun(t *testing.T) {
	again, err := Compare(folder)
	require.NoError(t, err)
	var first, second bytes.Buffer
	require.NoError(t, comparison(t).Write(&first))
	require.NoError(t, again.Write(&second))
	assert.Equal(t, first.String(), second.String())
}

// TestLineHasItsPlace: the line replaces the paragraph that begins as it does and no
// other, and a text without one is said to have none.
func TestLineHasItsPlace(t *testing.T) {
	c := comparison(t)
	text, ok := c.InLimits("# Limits\n\nHeld against nothing.\n\nRest\n")
	require.True(t, ok)
	assert.Equal(t, "# Limits\n\n"+c.Line()+" [Where it is off and why](measured.md).\n\nRest\n", text)
	_, ok = c.InLimits("# Limits\n")
	assert.False(t, ok)
}

// TestValuesFromMemoryDoNotCount: a value whose basis, or whose structure's, is memory is
// in the second table alone.
func TestValuesFromMemoryDoNotCount(t *testing.T) {
	var page bytes.Buffer
	require.NoError(t, comparison(t).Write(&page))
	first, second, found := strings.Cut(page.String(), strings.TrimSpace(apartWords))
	require.True(t, found)
	for _, v := range comparison(t).buildings.values {
		if v.unused == "" && !read(v.structure.basis) {
			assert.NotContains(t, first, v.structure.id+":", "from memory")
			assert.Contains(t, second, v.structure.id+":")
		}
	}
}

// TestEveryMissHasAReason: a value that counts, or a design force, that is off has a sentence
// in reasons.csv, were it "not known": nobody may make the program worse unseen.
func TestEveryMissHasAReason(t *testing.T) {
	c := comparison(t)
	for i := range c.buildings.values {
		v := &c.buildings.values[i]
		if v.off() && v.counts() {
			assert.NotEmpty(t, c.why.of(v.key(), whyOff), "%v is %.2f of what was measured: say why in reasons.csv",
				v.key(), v.ratio())
		}
	}
	for i := range c.codes {
		if k := &c.codes[i]; k.missed() {
			assert.NotEmpty(t, k.off, "codes.csv:%d is %.2f of the printed value: say why in reasons.csv",
				k.line, k.ratio())
		}
	}
}

func TestFigures(t *testing.T) {
	for v, want := range map[float64]string{0.2183: "0.218", 12.34: "12.3", 1438: "1438", 0: "0", 0.5: "0.5"} {
		assert.Equal(t, want, figure(v))
	}
	for n, want := range map[int]string{30346: "30,346", 999: "999", 1712182: "1,712,182"} {
		assert.Equal(t, want, thousands(n))
	}
	for v, want := range map[float64]string{0: "0", 5e-5: "< 0.01", 0.0045: "0.45", 0.53: "53.0"} {
		assert.Equal(t, want, percent(v))
	}
	for n, want := range []string{"", ", 1 storey", ", 2 storeys"} {
		assert.Equal(t, want, storeys(", ", n))
	}
}
