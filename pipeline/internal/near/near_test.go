package near

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Slips as people make them, and words that have nothing to do with each other.
func TestWords(t *testing.T) {
	known := []string{"name", "inventory", "hazard", "grid", "site_class", "lead-rubber", "storeys", "lat", "lon",
		"HEIGHT_M", "floor_area"}
	for s, want := range map[string][]string{
		"nmae": {"name"}, "gird": {"grid"}, "sight_class": {"site_class"}, "lead-ruber": {"lead-rubber"},
		"inventroy": {"inventory"}, "height": {"HEIGHT_M"}, "floors": {"floor_area"}, "Storey": {"storeys"},
		"lat": {"lat"}, "latitude": {"lat"}, "xyzzy": nil, "": nil, "-": nil,
	} {
		got := Words(s, known, 1)
		assert.Equal(t, want, got, s)
	}
	assert.Equal(t, []string{"aab", "ab"}, Words("aab", []string{"ab", "aab", "zz"}, 3), "the likeliest first")
}

// Worked by hand: sunday to saturday is three edits (a common worked case of Levenshtein's
// distance, from memory); a swap of neighbours is one.
func TestEdits(t *testing.T) {
	assert.Equal(t, 3, edits("sunday", "saturday"))
	assert.Equal(t, 1, edits("ab", "ba"))
	assert.Equal(t, 2, edits("", "ab"))
	assert.Zero(t, edits("ab", "ab"))
	assert.Equal(t, edits("gird", "grid"), edits("grid", "gird"))
}
