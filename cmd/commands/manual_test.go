package commands

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestManual holds the manual page to the help of the commands. UPDATE=1 writes it.
func TestManual(t *testing.T) {
	path := filepath.Join("..", "..", "docs", "plinth.1")
	got, err := Manual()
	require.NoError(t, err)
	if os.Getenv("UPDATE") != "" {
		require.NoError(t, os.WriteFile(path, []byte(got), 0o666))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), got, "make docs rewrites it")
	for _, c := range app(nil, nil, nil).VisibleCommands() {
		assert.Contains(t, got, c.Usage)
		assert.Contains(t, got, "plinth "+c.Name)
	}
}

// TestManualRenders: the typesetter of manual pages has nothing to say about it.
func TestManualRenders(t *testing.T) {
	path, err := filepath.Abs(filepath.Join("..", "..", "docs", "plinth.1"))
	require.NoError(t, err)
	for _, tool := range [][]string{{"groff", "-man", "-ww", "-Tascii"}, {"mandoc", "-man", "-Wwarning"}} {
		if _, err := exec.LookPath(tool[0]); err != nil {
			continue
		}
		c := exec.Command(tool[0], append(tool[1:], path)...)
		var said strings.Builder
		c.Stderr = &said
		out, err := c.Output()
		require.NoError(t, err, said.String())
		assert.Empty(t, said.String(), tool[0])
		assert.Contains(t, string(out), "plinth screen demo/plan.toml")
		return
	}
	t.Skip("needs groff or mandoc")
}
