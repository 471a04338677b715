package output

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestTwoRunsIntoOneFolder(t *testing.T) {
	dir := t.TempDir()
	first, err := NewSet(dir, Claim{Plan: "a"})
	require.NoError(t, err)
	var folder *FolderError
	_, err = NewSet(dir, Claim{Plan: "a"})
	require.ErrorAs(t, err, &folder)
	require.ErrorContains(t, err, "is being written to by another run (process ")
	require.ErrorContains(t, err, "wait until it ends")
	_, err = NewSet(dir, Claim{Plan: "a", Replace: true})
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
		require.NoError(t, os.WriteFile(filepath.Join(left, name), []byte("plinth (process 1)"), 0o666))
	}
	require.NoError(t, writeRun(t, dir, "a", false, "one.csv"))
	require.Equal(t, []string{ManifestName, "one.csv"}, names(t, dir))
}

// A power cut may leave the lock empty, with nothing beside it: the mark is on disk before the first
// file is. An empty lock beside files is somebody's.
func TestLockWithoutContent(t *testing.T) {
	dir := t.TempDir()
	left := filepath.Join(dir, WorkingName)
	require.NoError(t, os.Mkdir(left, 0o777))
	require.NoError(t, os.WriteFile(filepath.Join(left, lockName), nil, 0o666))
	require.NoError(t, writeRun(t, dir, "a", false, "one.csv"))
	require.Equal(t, []string{ManifestName, "one.csv"}, names(t, dir))

	require.NoError(t, os.Mkdir(left, 0o777))
	for _, name := range []string{lockName, "mine.csv"} {
		require.NoError(t, os.WriteFile(filepath.Join(left, name), nil, 0o666))
	}
	require.ErrorContains(t, writeRun(t, dir, "a", true, "one.csv"), "its lock is not ours")
	require.FileExists(t, filepath.Join(left, "mine.csv"))
}

// A run that is refused removes nothing: neither its register, wherever in the folder that stands,
// nor what a run that was killed left there.
func TestRefusalRemovesNothing(t *testing.T) {
	for _, at := range []string{"reg.csv", "sub/reg.csv"} {
		dir := t.TempDir()
		register := filepath.Join(dir, WorkingName, filepath.FromSlash(at))
		require.NoError(t, os.MkdirAll(filepath.Dir(register), 0o777))
		require.NoError(t, os.WriteFile(register, []byte("id"), 0o666))
		require.NoError(t, os.WriteFile(filepath.Join(dir, WorkingName, lockName), []byte(lockMark), 0o666))
		for _, replace := range []bool{false, true} {
			_, err := NewSet(dir, Claim{Plan: "a", Reads: []string{register}, Replace: replace})
			var keep *KeepError
			require.ErrorAs(t, err, &keep)
			require.FileExists(t, register)
		}
	}
	dir := t.TempDir()
	require.NoError(t, writeRun(t, dir, "a", false, "one.csv"))
	left := filepath.Join(dir, WorkingName, "sorted")
	require.NoError(t, os.Mkdir(filepath.Dir(left), 0o777))
	require.NoError(t, os.WriteFile(left, []byte("rows"), 0o666))
	require.NoError(t, os.WriteFile(filepath.Join(dir, WorkingName, lockName), []byte(lockMark), 0o666))
	_, err := NewSet(dir, Claim{Plan: "b"})
	require.ErrorContains(t, err, "another plan")
	require.FileExists(t, left)
}

// A database with changes of another program beside it is not replaced by one they do not fit
// (SQLite, "Write-Ahead Logging": the log belongs to the database file).
func TestPendingChanges(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, writeRun(t, dir, "a", false, "one.gpkg"))
	for _, ending := range []string{"-wal", "-journal"} {
		aside := filepath.Join(dir, "one.gpkg"+ending)
		require.NoError(t, os.WriteFile(aside, nil, 0o666))
		require.NoError(t, writeRun(t, dir, "a", true, "one.gpkg"), "an empty one holds no change")
		require.NoError(t, os.WriteFile(aside, []byte("pages"), 0o666))
		for _, replace := range []bool{false, true} {
			require.ErrorContains(t, writeRun(t, dir, "a", replace, "one.gpkg"), "holds changes to one.gpkg")
		}
		require.FileExists(t, aside)
		require.NoError(t, os.Remove(aside))
	}
}

// A commit that was cut short between two renames leaves files that no manifest in
// the folder names; the one still aside does, and the next run may replace them.
func TestCommitCutShort(t *testing.T) {
	dir := t.TempDir()
	left := filepath.Join(dir, WorkingName)
	require.NoError(t, writeRun(t, dir, "a", false, "one.csv", "two.csv"))
	require.NoError(t, os.Mkdir(left, 0o777))
	require.NoError(t, os.WriteFile(filepath.Join(left, lockName), []byte(lockMark), 0o666))
	for _, name := range []string{"two.csv", ManifestName} {
		require.NoError(t, os.Rename(filepath.Join(dir, name), filepath.Join(left, name)))
	}
	require.NoError(t, writeRun(t, dir, "a", false, "one.csv", "two.csv"))
	require.Equal(t, []string{ManifestName, "one.csv", "two.csv"}, names(t, dir))
}

func TestUnfinishedRunIsKept(t *testing.T) {
	dir := t.TempDir()
	set, err := NewSet(dir, Claim{Plan: "a"})
	require.NoError(t, err)
	_, err = set.Create("one.csv")
	require.NoError(t, err)
	at := filepath.Join(set.Working(), CheckpointName)
	require.NoError(t, os.WriteFile(at, []byte("so far"), 0o666))
	require.NoError(t, set.Abort())
	require.Equal(t, []string{CheckpointName, lockName}, names(t, filepath.Join(dir, WorkingName)), "the half file is gone, the checkpoint not")

	_, err = NewSet(dir, Claim{Plan: "a"})
	require.ErrorContains(t, err, "pass --resume to go on with it, or --force to begin anew")
	require.FileExists(t, at)

	set, err = LockSet(dir, Claim{})
	require.NoError(t, err)
	require.NoError(t, set.Admit(Claim{Plan: "a"}))
	require.FileExists(t, at)
	require.NoError(t, set.Abort())

	require.NoError(t, writeRun(t, dir, "a", true, "one.csv"))
	require.Equal(t, []string{ManifestName, "one.csv"}, names(t, dir), "begun anew by force")
}

// A folder of the name of the working folder that no run made is left whole, and so is
// what a link of that name leads to.
func TestForeignWorkingFolder(t *testing.T) {
	for _, kind := range []string{"folder", "folder with a lock", "link", "file"} {
		t.Run(kind, func(t *testing.T) {
			dir, big := t.TempDir(), t.TempDir()
			left := filepath.Join(dir, WorkingName)
			at := filepath.Join(left, "precious.txt")
			switch kind {
			case "link":
				require.NoError(t, os.Symlink(big, left))
			case "file":
				at = left
			default:
				require.NoError(t, os.Mkdir(left, 0o777))
			}
			if kind == "folder with a lock" {
				require.NoError(t, os.WriteFile(filepath.Join(left, lockName), []byte("mine"), 0o666))
			}
			require.NoError(t, os.WriteFile(at, []byte("precious"), 0o666))
			for _, force := range []bool{false, true} {
				var folder *FolderError
				require.ErrorAs(t, writeRun(t, dir, "a", force, "one.csv"), &folder)
				require.ErrorContains(t, folder, "move it away")
			}
			b, err := os.ReadFile(at)
			require.NoError(t, err)
			require.Equal(t, "precious", string(b))
			if kind == "link" {
				require.Equal(t, []string{"precious.txt"}, names(t, big))
			}
		})
	}
}
