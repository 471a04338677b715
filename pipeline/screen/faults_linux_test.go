package screen

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/assessed"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/output"
)

// smallDisk mounts a disk of so many kB at dir, or skips the test.
func smallDisk(t *testing.T, dir string, kB int) {
	t.Helper()
	require.NoError(t, os.MkdirAll(dir, 0o777))
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, fmt.Sprintf("size=%dk", kB)); err != nil {
		t.Skipf("a small disk can be mounted by root only: %v", err)
	}
	t.Cleanup(func() { require.NoError(t, syscall.Unmount(dir, 0)) })
}

// A disk that fills up at any point of a run, in the sorters, in a checkpoint, in any
// file, is an error that says so. Nothing half written stays, and with room the run
// is gone on with.
func TestFullDisk(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	const whole = 16 << 10 // kB, more than enough
	dir := town.New(t, 400)
	s := assess.Settings{Workers: 2, Memory: 1, Checkpoint: 50}
	_, err := Stock(context.Background(), plainly(t, dir), s)
	require.NoError(t, err)
	want := town.Files(t, dir)
	out := filepath.Join(dir, "out")
	require.NoError(t, os.RemoveAll(out))
	smallDisk(t, out, whole)
	failed := 0
	for kB := 8; kB < whole; kB *= 2 {
		require.NoError(t, syscall.Mount("tmpfs", out, "tmpfs", syscall.MS_REMOUNT,
			fmt.Sprintf("size=%dk", kB)))
		_, err := Stock(context.Background(), plainly(t, dir), s)
		if err == nil {
			town.Alike(t, want, dir)
			break
		}
		failed++
		require.ErrorIs(t, err, syscall.ENOSPC, "%d kB", kB)
		assert.Empty(t, town.Files(t, dir), "%d kB", kB)

		require.NoError(t, syscall.Mount("tmpfs", out, "tmpfs", syscall.MS_REMOUNT,
			fmt.Sprintf("size=%dk", whole)))
		again := s
		again.Resume = true
		_, err = Stock(context.Background(), plainly(t, dir), again)
		require.NoError(t, err, "%d kB", kB)
		town.Alike(t, want, dir)
		for name := range want {
			require.NoError(t, os.Remove(filepath.Join(out, name)))
		}
		require.NoError(t, os.RemoveAll(filepath.Join(out, assessed.Folder)))
	}
	assert.Greater(t, failed, 3)
	assert.NoDirExists(t, filepath.Join(out, output.WorkingName))
}

// A disk that may only be read ends a run before it has begun.
func TestReadOnlyDisk(t *testing.T) {
	dir := town.New(t, 50)
	out := filepath.Join(dir, "out")
	smallDisk(t, out, 64)
	require.NoError(t, syscall.Mount("tmpfs", out, "tmpfs", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""))
	_, err := Stock(context.Background(), plainly(t, dir),
		assess.Settings{Progress: func(string, int64, int64) { t.Error("it has begun") }})
	require.ErrorIs(t, err, syscall.EROFS)
	require.ErrorContains(t, err, "output folder")
}
