package retrofit

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Each measure is described and knows its own name.
func TestEveryMeasureIsDescribed(t *testing.T) {
	var slugs []string
	for _, m := range every() {
		slugs = append(slugs, m.Slug())
		d, ok := Describe(m.Slug())
		assert.True(t, ok, m.Slug())
		assert.NotEmpty(t, d.Does, m.Slug())
		assert.NotEmpty(t, d.Cannot, m.Slug())
	}
	var described []string
	for _, d := range Measures() {
		described = append(described, d.Slug)
	}
	assert.ElementsMatch(t, described, slugs)
	_, ok := Describe("jacks")
	assert.False(t, ok)
}
