package source

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Text is taken for UTF-8 even where its head ends within a letter.
func TestValidHead(t *testing.T) {
	text := []byte("Māori 建物 🏠")
	for n := range text {
		assert.True(t, validHead(text[:n], false), n)
	}
	assert.True(t, validHead(text, true))
	assert.False(t, validHead(text[:2], true), "the whole file ends within a letter")
	assert.False(t, validHead([]byte("Caf\xe9 Noir"), false))
	assert.True(t, validHead(nil, true))
}
