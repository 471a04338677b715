package extsort

import (
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// addRange adds the records of some numbers, keys far from the order of adding.
func addRange(t *testing.T, s *Sorter, from, to int) {
	for i := from; i < to; i++ {
		require.NoError(t, s.Add(AppendInt(nil, int64(i*7919%10007)), make([]byte, 50+i%30)))
	}
}

// A Sorter that was saved and closed half way, and another that goes on from its
// runs, give what one gives.
func TestSaveAndRestore(t *testing.T) {
	if testing.Short() {
		t.Skip("sorts on disk many times")
	}
	folder := t.TempDir()
	for _, memory := range []int64{2000, 64 << 10, 1 << 20} { // many passes, some runs, none but the saved
		whole := NewSorter(Options{Memory: memory, Folder: folder})
		addRange(t, whole, 0, 4000)
		want := drain(t, whole)
		require.NoError(t, whole.Close())

		s := NewSorter(Options{Memory: memory, Folder: folder})
		addRange(t, s, 0, 1000)
		_, err := s.Save()
		require.NoError(t, err)
		addRange(t, s, 1000, 1500)
		runs, err := s.Save()
		require.NoError(t, err)
		addRange(t, s, 1500, 3000) // lost with the process
		require.NoError(t, s.Close())

		for range 2 { // the runs outlive the second Sorter too
			s = NewSorter(Options{Memory: memory, Folder: folder})
			require.NoError(t, s.Restore(runs))
			addRange(t, s, 1500, 4000)
			require.Equal(t, want, drain(t, s))
			require.NoError(t, s.Close())
		}
		require.Len(t, runFiles(t, folder), len(runs), "only what was saved is left")
		for _, r := range runs {
			require.NoError(t, os.Remove(filepath.Join(folder, r.Path)))
		}
	}
}

func runFiles(t *testing.T, folder string) []string {
	files, err := filepath.Glob(filepath.Join(folder, "*", "*"))
	require.NoError(t, err)
	return files
}

func TestSaveOfNothing(t *testing.T) {
	s := NewSorter(Options{Folder: filepath.Join(t.TempDir(), "absent")})
	runs, err := s.Save()
	require.NoError(t, err)
	assert.Empty(t, runs)
	require.NoError(t, s.Restore(runs))
	assert.Panics(t, func() { _, _ = NewSorter(Options{}).Save() }, "no folder to tell a path in")
}

// Any byte of a run that changes, goes or comes is found.
func TestDamagedRun(t *testing.T) {
	folder := t.TempDir()
	s := NewSorter(Options{Memory: 1 << 20, Folder: folder})
	addRange(t, s, 0, 500)
	runs, err := s.Save()
	require.NoError(t, err)
	require.NoError(t, s.Close())
	path := filepath.Join(folder, runs[0].Path)
	sound, err := os.ReadFile(path)
	require.NoError(t, err)
	restore := func(runs []Run) error {
		s := NewSorter(Options{Folder: folder})
		defer s.Close()
		return s.Restore(runs)
	}
	require.NoError(t, restore(runs))
	r := rand.New(rand.NewPCG(3, 1))
	for range 50 {
		bad := append([]byte(nil), sound...)
		bad[r.IntN(len(bad))] ^= 1 << r.IntN(8)
		require.NoError(t, os.WriteFile(path, bad, 0o600))
		require.ErrorIs(t, restore(runs), ErrDamaged)
	}
	for _, bad := range [][]byte{nil, sound[:len(sound)-1], append(sound, 0)} {
		require.NoError(t, os.WriteFile(path, bad, 0o600))
		require.ErrorIs(t, restore(runs), ErrDamaged)
	}
	require.NoError(t, os.Remove(path))
	require.ErrorIs(t, restore(runs), ErrDamaged)
	require.ErrorIs(t, restore([]Run{{Path: "../../etc/hosts"}}), ErrDamaged, "outside the folder")
}

// FuzzRun: a file that no runWriter wrote ends in an error of the sorter or in records,
// and makes room for no more than a block may have.
func FuzzRun(f *testing.F) {
	s := NewSorter(Options{Memory: 4096, Folder: f.TempDir()})
	defer s.Close()
	w, err := s.newRun()
	require.NoError(f, err)
	for i := range 40 {
		w.write([]byte{byte(i)}, make([]byte, i))
	}
	require.NoError(f, w.close(false))
	sound, err := os.ReadFile(w.path)
	require.NoError(f, err)
	f.Add(sound)
	path := filepath.Join(f.TempDir(), "run")
	f.Fuzz(func(t *testing.T, doc []byte) {
		require.NoError(t, os.WriteFile(path, doc, 0o600))
		r, err := openRun(path)
		for more := err == nil; more; {
			if more, err = r.next(); more {
				require.Equal(t, prefix(r.key), r.prefix)
			}
			require.LessOrEqual(t, len(r.block), longestBlock)
		}
		var known *SortError
		require.True(t, err == nil || errors.As(err, &known), "%v", err)
		if r != nil {
			require.NoError(t, r.close())
		}
	})
}
