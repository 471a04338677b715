package output

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestTwoRunsIntoOneFolder(t *testing.T) {
	dir := t.TempDir()
	first, err := NewSet(dir, "a", false)
	require.NoError(t, err)
	var folder *FolderError
	_, err = NewSet(dir, "a", false)
	require.ErrorAs(t, err, &folder)
	require.ErrorContains(t, err, "is being written to by another run (process ")
	require.ErrorContains(t, err, "wait until it ends")
	_, err = NewSet(dir, "a", true)
	require.ErrorAs(t, err, &folder, "not by force either")
	_, err = first.Create("one.csv")
	require.NoError(t, err)
	require.NoError(t, first.Commit(&Manifest{PlanSHA256: "a"}))
	require.Equal(t, []string{ManifestName, "one.csv"}, names(t, dir))
	require.NoError(t, writeRun(t, dir, "a", false, "one.csv"), "the first has ended")
}

// What a process that was killed left behind does not stand in the way: its lock
// file is there, but nobody holds it.
func TestStaleLock(t *testing.T) {
	dir := t.TempDir()
	left := filepath.Join(dir, WorkingName)
	require.NoError(t, os.Mkdir(left, 0o777))
	for _, name := range []string{lockName, "one.csv", "two.parquet"} {
		require.NoError(t, os.WriteFile(filepath.Join(left, name), []byte("(process 1)"), 0o666))
	}
	require.NoError(t, writeRun(t, dir, "a", false, "one.csv"))
	require.Equal(t, []string{ManifestName, "one.csv"}, names(t, dir))
}

// A commit that was cut short between two renames leaves files that no manifest in
// the folder names; the one still aside does, and the next run may replace them.
func TestCommitCutShort(t *testing.T) {
	dir := t.TempDir()
	left := filepath.Join(dir, WorkingName)
	require.NoError(t, writeRun(t, dir, "a", false, "one.csv", "two.csv"))
	require.NoError(t, os.Mkdir(left, 0o777))
	for _, name := range []string{"two.csv", ManifestName} {
		require.NoError(t, os.Rename(filepath.Join(dir, name), filepath.Join(left, name)))
	}
	require.NoError(t, writeRun(t, dir, "a", false, "one.csv", "two.csv"))
	require.Equal(t, []string{ManifestName, "one.csv", "two.csv"}, names(t, dir))
}

func TestUnfinishedRunIsKept(t *testing.T) {
	dir := t.TempDir()
	set, err := NewSet(dir, "a", false)
	require.NoError(t, err)
	_, err = set.Create("one.csv")
	require.NoError(t, err)
	at := filepath.Join(set.Working(), CheckpointName)
	require.NoError(t, os.WriteFile(at, []byte("so far"), 0o666))
	require.NoError(t, set.Abort())
	require.Equal(t, []string{CheckpointName, lockName}, names(t, filepath.Join(dir, WorkingName)), "the half file is gone, the checkpoint not")

	_, err = NewSet(dir, "a", false)
	require.ErrorContains(t, err, "pass --resume to go on with it, or --force to begin anew")
	require.FileExists(t, at)

	set, err = LockSet(dir)
	require.NoError(t, err)
	require.NoError(t, set.Admit("a", false))
	require.FileExists(t, at)
	require.NoError(t, set.Abort())

	require.NoError(t, writeRun(t, dir, "a", true, "one.csv"))
	require.Equal(t, []string{ManifestName, "one.csv"}, names(t, dir), "begun anew by force")
}
