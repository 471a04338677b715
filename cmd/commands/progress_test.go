package commands

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// On a terminal each stage has a bar with its number and, once about how many there
// will be is known, the time left; an estimate that was too low ends nothing. Elsewhere
// there is nothing.
func TestProgress(t *testing.T) {
	path := filepath.Join(t.TempDir(), "terminal")
	f, err := os.Create(path)
	require.NoError(t, err)
	p := progress{terminal: f}
	p.tell("buildings", 10, 0)
	p.tell("buildings", 500, 400)
	assert.False(t, p.bar.IsFinished(), "more came than was expected")
	p.tell("buildings", 510, 1000)
	assert.EqualValues(t, 1000, p.bar.GetMax64())
	p.tell("time histories", 1, 4)
	assert.EqualValues(t, 4, p.bar.GetMax64())
	p.done()
	require.NoError(t, f.Close())
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Contains(t, string(b), "buildings")
	assert.Contains(t, string(b), "time histories")
	assert.Regexp(t, `\[\d+s:\d+s\]`, string(b), "taken and left")
	assert.NotContains(t, string(b), "\x1b[3", "no colours")
	(&progress{}).tell("buildings", 1, 2)
	(&progress{}).done()
}
