package disk

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestWriteIsWholeOrNothing(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a")
	content := func(s string, err error) func(io.Writer) error {
		return func(w io.Writer) error {
			_, _ = io.WriteString(w, s)
			return err
		}
	}
	require.NoError(t, Write(path, 0o600, content("old", nil)))
	failed := errors.New("no more")
	require.ErrorIs(t, Write(path, 0o600, content("half of the n", failed)), failed)
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, "old", string(b))
	require.NoError(t, os.WriteFile(path+".unfinished", []byte("of a process that was killed, long"), 0o600))
	require.NoError(t, Write(path, 0o600, content("new", nil)))
	if info, err := os.Stat(path); runtime.GOOS != "windows" {
		require.NoError(t, err)
		require.EqualValues(t, 0o600, info.Mode().Perm(), "nobody else's")
	}
	b, err = os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, "new", string(b))
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Len(t, entries, 1)
	require.Error(t, Write(filepath.Join(dir, "none", "a"), 0o666, content("", nil)))
	require.NoError(t, SyncFile(path))
}

// A folder is no file to write over, and is left as it is.
func TestWriteToAFolder(t *testing.T) {
	dir := t.TempDir()
	err := Write(dir, 0o666, func(io.Writer) error { return nil })
	require.EqualError(t, err, dir+" is a folder; give the path of a file")
	require.NoFileExists(t, dir+".unfinished")
}
