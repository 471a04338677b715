//go:build unix

package assess

import (
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// pipe makes a named pipe that nobody writes to.
func pipe(t *testing.T) string {
	path := filepath.Join(t.TempDir(), "buildings.csv")
	require.NoError(t, syscall.Mkfifo(path, 0o600))
	return path
}
