package disk

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// What is written is what was given, however long and in whatever parts, on a disk and
// in memory, where the cache cannot always be passed.
func TestLong(t *testing.T) {
	dirs := []string{t.TempDir()}
	if info, err := os.Stat("/dev/shm"); err == nil && info.IsDir() {
		dir, err := os.MkdirTemp("/dev/shm", "plinth-test-")
		require.NoError(t, err)
		defer os.RemoveAll(dir)
		dirs = append(dirs, dir)
	}
	r := rand.New(rand.NewPCG(1, 2))
	for _, dir := range dirs {
		for _, size := range []int{0, 1, longBegin, longBegin + 1, longPiece - 1, longPiece, longPiece + 1, 3*longPiece + 12345} {
			want := make([]byte, size)
			for i := range want {
				want[i] = byte(r.Uint32())
			}
			path := filepath.Join(dir, "long")
			f, err := os.Create(path)
			require.NoError(t, err)
			l := NewLong(f)
			for from := 0; from < size; {
				n := min(size-from, 1+r.IntN(2*longPiece))
				k, err := l.Write(want[from : from+n])
				require.NoError(t, err)
				require.Equal(t, n, k)
				from += n
				if r.IntN(4) == 0 {
					require.NoError(t, l.Flush(), "in the middle")
				}
			}
			require.NoError(t, l.Flush())
			require.NoError(t, f.Close())
			got, err := os.ReadFile(path)
			require.NoError(t, err)
			require.True(t, bytes.Equal(want, got), "%d bytes", size)
		}
	}
}

func TestLongOnAFullDisk(t *testing.T) {
	f, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("this system has no /dev/full")
	}
	defer f.Close()
	l := NewLong(f)
	_, err = l.Write(make([]byte, longPiece))
	require.ErrorContains(t, err, "no space left")
	_, err = l.Write([]byte{1})
	require.NoError(t, err)
	require.ErrorContains(t, l.Flush(), "no space left")
}
