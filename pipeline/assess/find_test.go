package assess

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/inventory"
)

// shown returns a search that was shown a register in two batches: a building of id A, rows
// that were rejected, and buildings of one name.
func shown(t *testing.T, key string, namesakes int) *search {
	s := &search{key: key, again: make(map[string][]inventory.Reject)}
	first := inventory.Batch{
		Buildings: []inventory.Building{{ID: "A", Name: "Town Hall", Line: 2}},
		Rejects: []inventory.Reject{
			{ID: "A", Line: 3, Rule: inventory.DuplicateID},
			{ID: "R", Line: 4, Rule: inventory.MissingSystem},
		},
	}
	require.NoError(t, s.look(&first))
	second := inventory.Batch{Rejects: []inventory.Reject{{ID: "A", Line: 99, Rule: inventory.DuplicateID}}}
	for i := range namesakes {
		second.Buildings = append(second.Buildings,
			inventory.Building{ID: fmt.Sprintf("S%d", i), Name: "School", Line: 10 + i})
	}
	require.NoError(t, s.look(&second))
	return s
}

// TestSearchPrefersBuilding: a building of the results is found although later rows of its
// id were rejected, and those rows are kept for a note, from whatever batch.
func TestSearchPrefersBuilding(t *testing.T) {
	for _, key := range []string{"A", "town hall"} {
		s := shown(t, key, 0)
		b, err := s.found("r.csv")
		require.NoError(t, err)
		assert.Equal(t, "A", b.ID)
		var lines []int
		for _, rj := range s.again[b.ID] {
			lines = append(lines, rj.Line)
		}
		assert.Equal(t, []int{3, 99}, lines)
	}
}

// TestSearchByName: a name serves where one building has it; of several all are listed, up to a number.
func TestSearchByName(t *testing.T) {
	b, err := shown(t, "School", 1).found("r.csv")
	require.NoError(t, err)
	assert.Equal(t, "S0", b.ID)

	_, err = shown(t, "school", 3).found("r.csv")
	assert.EqualError(t, err, `3 buildings are called "school": S0 (line 10), S1 (line 11), S2 (line 12); give the id of one of them`)
	_, err = shown(t, "school", 25).found("r.csv")
	assert.ErrorContains(t, err, "S9 (line 19) and 15 more; give")

	_, err = shown(t, "R", 3).found("r.csv")
	assert.ErrorContains(t, err, `building "R" was rejected`)
	_, err = shown(t, "", 0).found("r.csv")
	assert.ErrorContains(t, err, `no building "" in r.csv`)
}
