package inventory

import (
	"fmt"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestVocabularyBounded: of any number of words a bounded number is kept, with whole
// counts, and parts merge into the same in any order.
func TestVocabularyBounded(t *testing.T) {
	var whole, odd, even vocabulary
	for round := range 2 {
		for i := range 5 * maxWords {
			word := fmt.Sprintf("w%06d", (i*7919)%(5*maxWords))
			whole.count(word, 1)
			if i%2 == round {
				odd.count(word, 1)
			} else {
				even.count(word, 1)
			}
		}
	}
	whole.count(strings.Repeat("x", longestWord+1), 1)
	odd.count(strings.Repeat("x", longestWord+1), 1)
	assert.Len(t, whole.words, maxWords)
	assert.Equal(t, 10*maxWords+1, whole.cells)
	for _, w := range whole.words {
		require.Equal(t, 2, w.Cells, w.Word)
	}
	forth, back := odd, even
	forth.words, back.words = append([]WordCount(nil), odd.words...), append([]WordCount(nil), even.words...)
	forth.merge(&even)
	back.merge(&odd)
	assert.Equal(t, whole, forth)
	assert.Equal(t, whole, back)
}

// TestSuggestion: one close word is suggested, of several none is.
func TestSuggestion(t *testing.T) {
	ours, _ := wordsOf(System)
	for word, want := range map[string]string{
		"Timber": "timber-frame", "Steel moment frame": "steel-moment-frame", "URM?": "",
		"Temporary": "", "Concrete": "", "masonry": "", "": "", "Masonry, unreinforced": "masonry-unreinforced",
	} {
		assert.Equal(t, want, suggestion(word, ours), word)
	}
}

// TestWordsAsTOML: the reader of plans finds the words as the register has them,
// whatever letters they hold, the most frequent first.
func TestWordsAsTOML(t *testing.T) {
	r := &Report{}
	r.headers[System] = "CONSTRUCTION"
	hostile := []string{`quote " and \ back`, "tab\there", "line\nbreak", "bell\x07", "\u202eturned", "Müll", "]#=", "del\x7f"}
	for i, w := range hostile {
		r.vocabulary("CONSTRUCTION").count(w, 10+i)
	}
	r.vocabulary("CONSTRUCTION").count("Timber", 99)
	u := r.Unmapped()
	require.Len(t, u, 1)
	assert.Equal(t, WordCount{"Timber", 99, "timber-frame"}, u[0].Words[0])
	lines := u[0].TOML(100, 80)
	var got struct {
		Inventory struct{ Values map[string]map[string]string }
	}
	err := toml.Unmarshal([]byte(strings.Join(lines, "\n")), &got)
	require.NoError(t, err)
	values := got.Inventory.Values["system"]
	assert.Len(t, values, len(hostile)+1)
	for _, w := range hostile {
		assert.Contains(t, values, w)
	}
	for _, line := range lines {
		assert.LessOrEqual(t, len([]rune(line)), 80)
	}
	r.mapped[System] = true
	again := r.Unmapped()
	assert.Equal(t, "# under the line [inventory.values.system] that the plan has:", again[0].TOML(3, 80)[0],
		"a table stands once in a plan")
	assert.Equal(t, "# and 6 more of the column's words; check --json lists them", last(u[0].TOML(3, 80)))
}

func last(s []string) string { return s[len(s)-1] }

// TestFixesChangeResults: what was read as meant is no thing to put right, cells are not
// called rows, and ground is left alone where the hazard holds it.
func TestFixesChangeResults(t *testing.T) {
	r := &Report{}
	r.Tally.In, r.Tally.Buildings = 26, 26
	r.Origins[Year][Given], r.Origins[Year][Assumed] = 12, 14
	r.Inexact[Year] = 10
	r.Origins[SiteClass][Absent] = 26
	for _, rule := range []Rule{Thousands, SpecialForm, NullWord, NotANumber} {
		r.Tally.Rules[rule] = 104
	}
	fixes := strings.Join(r.Fixes(), "\n")
	assert.Contains(t, fixes, "year, not given for 4 of 26 buildings")
	assert.Contains(t, fixes, "not-a-number, 104 cells")
	assert.Contains(t, fixes, "site_class")
	for _, rule := range []Rule{Thousands, SpecialForm, NullWord} {
		assert.NotContains(t, fixes, rule.String())
	}
	r.Tally.Rules[StackedPoint], r.Tally.Rules[OutOfRange] = 25, 60
	fixes = strings.Join(r.Fixes(), "\n")
	assert.Less(t, strings.Index(fixes, "stacked-point"), strings.Index(fixes, "out-of-range"),
		"one place for nearly all weighs more than slips in more cells")
	r.Idle[SiteClass] = true
	assert.NotContains(t, strings.Join(r.Fixes(), "\n"), "site_class")
}

// TestOwnerRemedies: the owner of a register has no plan, so no remedy speaks of its keys.
func TestOwnerRemedies(t *testing.T) {
	for rule := range numRules {
		assert.NotRegexp(t, `\[|inventory|declare|\w = `, rule.OwnerRemedy(), rule.String())
	}
}

// TestUnknownUseCapsGrade: without a use who is inside is a guess.
func TestUnknownUseCapsGrade(t *testing.T) {
	b := &Building{}
	for _, line := range rubric {
		b.Origin[line.field] = Given
	}
	_, g := grade(b)
	assert.Equal(t, Grade('B'), g)
	for _, o := range []Origin{Absent, Assumed} {
		b.Origin[UseField] = o
		_, g = grade(b)
		assert.Equal(t, Grade('C'), g, o)
	}
}
