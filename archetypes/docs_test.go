package archetypes

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestDocumented checks that every word a plan or a table may use is in the page on methods.
func TestDocumented(t *testing.T) {
	page, err := os.ReadFile("../docs/methods/archetypes.md")
	require.NoError(t, err)
	words := append(ruleNames(), Default().Regions()...)
	words = append(append(words, systemSlugs[:]...), profileSlugs[:]...)
	for _, w := range words {
		assert.True(t, strings.Contains(string(page), "`"+w+"`"), "%s is not in docs/methods/archetypes.md",
			w)
	}
}
