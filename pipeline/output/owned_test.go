package output

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestMayReplace is the table of the one rule: what is read is never replaced by
// whatever name, and otherwise only what is ours.
func TestMayReplace(t *testing.T) {
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	require.NoError(t, os.Mkdir(in("sub"), 0o777))
	for _, name := range []string{"register.csv", "foreign.txt", "result.csv"} {
		require.NoError(t, os.WriteFile(in(name), []byte(name), 0o666))
	}
	require.NoError(t, os.Link(in("register.csv"), in("hard.csv")))
	require.NoError(t, os.Symlink("register.csv", in("soft.csv")))
	require.NoError(t, os.Symlink(".", in("here")))
	require.NoError(t, os.Symlink("nowhere", in("dangling.csv")))
	reads := []string{in("register.csv"), in("later.csv")}
	for _, c := range []struct {
		name string
		ours bool
		may  bool
	}{
		{"new.csv", false, true},
		{"sub/none/new.csv", false, true},
		{"result.csv", true, true},
		{"result.csv", false, false},
		{"foreign.txt", false, false},
		{"sub", true, false},
		{"dangling.csv", false, false},
		{"register.csv", true, false},
		{"sub/../register.csv", true, false},
		{"hard.csv", true, false},
		{"soft.csv", true, false},
		{"here/register.csv", true, false},
		{"later.csv", true, false}, // not there yet
		{"here/later.csv", true, false},
	} {
		err := MayReplace(in(c.name), reads, c.ours)
		if c.may {
			require.NoError(t, err, c.name)
			continue
		}
		var keep *KeepError
		require.ErrorAs(t, err, &keep, c.name)
		require.NotContains(t, err.Error(), "--force", c.name)
	}
}

// No flag lets a run write over, or remove with an earlier run, a file that it reads.
func TestInputIsNeverReplaced(t *testing.T) {
	for _, format := range []string{"written again", "removed with the earlier run"} {
		t.Run(format, func(t *testing.T) {
			dir := t.TempDir()
			require.NoError(t, writeRun(t, dir, "a", false, "buildings.csv", "rules.csv"))
			_, err := NewSet(dir, Claim{Plan: "b", Replace: true, Reads: []string{filepath.Join(dir, "buildings.csv")}})
			var keep *KeepError
			require.ErrorAs(t, err, &keep)
			require.Equal(t, []string{"buildings.csv", ManifestName, "rules.csv"}, names(t, dir))
		})
	}
	t.Run("of no run", func(t *testing.T) {
		dir := t.TempDir()
		register := filepath.Join(dir, "buildings.csv")
		require.NoError(t, os.WriteFile(register, []byte("id\n"), 0o666))
		_, err := NewSet(dir, Claim{Plan: "b", Replace: true, Reads: []string{register}, Names: []string{"buildings.csv"}})
		require.ErrorContains(t, err, "is a file that this run reads", "before the first row")
	})
}

// What was edited since, and other inputs, need a word; the message says what differs. Another
// version of the program does not.
func TestRerunOfWhatHasChanged(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, writeRun(t, dir, "a", false, "one.csv", "two.csv"))
	for says, c := range map[string]Claim{
		"it read 0 files, now there are 1": {Plan: "a", Inputs: func() ([]Input, error) { return []Input{{Name: "r.csv"}}, nil }},
	} {
		_, err := NewSet(dir, c)
		require.ErrorContains(t, err, says)
		require.ErrorContains(t, err, "--force replaces the files of the earlier run there for good")
	}
	set, err := NewSet(dir, Claim{Plan: "a", Version: "2"})
	require.NoError(t, err)
	require.NoError(t, set.Abort())
	failed := errors.New("too many open files")
	_, err = NewSet(dir, Claim{Plan: "a", Inputs: func() ([]Input, error) { return nil, failed }})
	require.ErrorIs(t, err, failed)

	require.NoError(t, os.Remove(filepath.Join(dir, "two.csv")))
	require.NoError(t, writeRun(t, dir, "a", false, "one.csv", "two.csv"), "what is not there cannot be lost")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "one.csv"), []byte("MY NOTES"), 0o666))
	err = writeRun(t, dir, "a", false, "one.csv")
	require.ErrorContains(t, err, "changed since they were written (one.csv)")
	require.NoError(t, writeRun(t, dir, "a", true, "one.csv"))
}

// Privacy changes no mode of a folder that was there.
func TestPrivateFolder(t *testing.T) {
	mode := func(path string) fs.FileMode {
		info, err := os.Stat(path)
		require.NoError(t, err)
		return info.Mode()
	}
	if os.PathSeparator == '\\' {
		t.Skip("modes are of systems that know owners")
	}
	dir := t.TempDir()
	shared := filepath.Join(dir, "shared")
	require.NoError(t, os.Mkdir(shared, 0o777))
	require.NoError(t, os.Chmod(shared, 0o775|fs.ModeSetgid))
	before := mode(shared)
	_, err := NewSet(shared, Claim{Plan: "a", Private: true})
	require.ErrorContains(t, err, "open to others (mode 775)")
	require.Equal(t, before, mode(shared))
	require.Empty(t, names(t, shared))

	fresh := filepath.Join(dir, "fresh", "out")
	for range 2 { // the second finds it as the first made it
		set, err := NewSet(fresh, Claim{Plan: "a", Private: true})
		require.NoError(t, err)
		_, err = set.Create("one.csv")
		require.NoError(t, err)
		require.NoError(t, set.Commit(&Manifest{PlanSHA256: "a"}))
	}
	require.Equal(t, fs.FileMode(0o700), mode(fresh).Perm())
	require.Equal(t, fs.FileMode(0o600), mode(filepath.Join(fresh, "one.csv")).Perm())
	require.Equal(t, fs.FileMode(0o600), mode(filepath.Join(fresh, ManifestName)).Perm())
}

// The folder of the plan, the home folder and the root need a word, by whatever link.
func TestCrowdedFolders(t *testing.T) {
	dir := t.TempDir()
	home := filepath.Join(dir, "home")
	require.NoError(t, os.MkdirAll(filepath.Join(home, "town"), 0o777))
	t.Setenv("HOME", home)
	t.Setenv("USERPROFILE", home)
	plan := filepath.Join(home, "town", "plan.toml")
	require.NoError(t, os.WriteFile(plan, nil, 0o666))
	link := filepath.Join(dir, "link")
	require.NoError(t, os.Symlink(filepath.Join(home, "town"), link))
	for _, folder := range []string{"/", home, filepath.Join(home, "town"), filepath.Join(home, "town", "..", "town"), link} {
		require.ErrorContains(t, Crowded(folder, plan), "--here", folder)
	}
	for _, folder := range []string{filepath.Join(home, "town", "out"), filepath.Join(link, "out"), filepath.Join(dir, "other")} {
		require.NoError(t, Crowded(folder, plan), folder)
	}
}

// A folder of a programme or the like belongs to the run it was made from.
func TestFindStale(t *testing.T) {
	dir := t.TempDir()
	write := func(dir, plan string, inputs ...Input) {
		set, err := NewSet(dir, Claim{Plan: plan, Replace: true})
		require.NoError(t, err)
		require.NoError(t, set.Commit(&Manifest{PlanSHA256: plan, Inputs: inputs}))
	}
	register, other, terms := Input{"r.csv", 3, "aa"}, Input{"r.csv", 3, "bb"}, Input{"terms.csv", 1, "cc"}
	write(filepath.Join(dir, "budget"), "a", register, terms)
	stale, looked, err := FindStale(dir)
	require.NoError(t, err)
	require.Empty(t, stale)
	require.Zero(t, looked, "no run to be of")
	write(dir, "a", register)
	write(filepath.Join(dir, "confirm"), "a", other)
	write(filepath.Join(dir, "inspect"), "b", register)
	require.NoError(t, os.Mkdir(filepath.Join(dir, "owners"), 0o777))
	stale, looked, err = FindStale(dir)
	require.NoError(t, err)
	require.Equal(t, 3, looked)
	require.Len(t, stale, 2)
	require.Equal(t, "confirm", stale[0].Folder)
	require.Contains(t, stale[0].Problem, "another r.csv than the run")
	require.Equal(t, "inspect", stale[1].Folder)
	require.Contains(t, stale[1].Problem, "another plan")
}
