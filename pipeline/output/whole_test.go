package output

import (
	"crypto/sha256"
	"encoding/hex"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// names returns the names of the files in dir.
func names(t *testing.T, dir string) []string {
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	out := []string{}
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

// writeRun writes a run of the given plan to dir with the given files.
func writeRun(t *testing.T, dir, plan string, replace bool, files ...string) error {
	set, err := NewSet(dir, Claim{Plan: plan, Replace: replace})
	if err != nil {
		return err
	}
	for _, name := range files {
		f, err := set.Create(name)
		if err != nil {
			require.NoError(t, set.Abort())
			return err
		}
		_, err = f.Write([]byte(plan + name))
		require.NoError(t, err)
	}
	return set.Commit(&Manifest{PlanSHA256: plan, Counts: Counts{In: 3, Out: 2, Rejected: 1}})
}

func TestFilesAppearTogether(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "out")
	set, err := NewSet(dir, Claim{Plan: "a"})
	require.NoError(t, err)
	s, err := NewSheet(set, &Buildings, About{}, FormatCSV, FormatParquet)
	require.NoError(t, err)
	rs := rows(5)
	for i := range rs {
		require.NoError(t, s.Write(&rs[i]))
	}
	require.NoError(t, s.Close())
	require.Equal(t, []string{WorkingName}, names(t, dir), "nothing is in place before the commit")
	require.NoError(t, set.Commit(&Manifest{PlanSHA256: "a"}))
	require.Equal(t, []string{"buildings.csv", "buildings.csv-metadata.json", "buildings.parquet", ManifestName}, names(t, dir))
	require.NoError(t, set.Abort(), "after a commit there is nothing to abort")
	require.Len(t, names(t, dir), 4)

	m, err := ReadManifest(dir)
	require.NoError(t, err)
	require.Equal(t, Cautions, m.Cautions)
	require.Len(t, m.Files, 3)
	for _, f := range m.Files {
		b, err := os.ReadFile(filepath.Join(dir, f.Name))
		require.NoError(t, err)
		sum := sha256.Sum256(b)
		require.Equal(t, hex.EncodeToString(sum[:]), f.SHA256)
		require.EqualValues(t, len(b), f.Bytes)
	}
	require.EqualValues(t, 5, m.Files[0].Rows)
	require.EqualValues(t, 5, m.Files[2].Rows)
}

func TestAbortLeavesNothing(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, writeRun(t, dir, "a", false, "one.csv"))
	set, err := NewSet(dir, Claim{Plan: "a"})
	require.NoError(t, err)
	f, err := set.Create("one.csv")
	require.NoError(t, err)
	_, err = f.Write([]byte("half"))
	require.NoError(t, err)
	require.NoError(t, set.Abort())
	require.Equal(t, []string{ManifestName, "one.csv"}, names(t, dir))
	b, err := os.ReadFile(filepath.Join(dir, "one.csv"))
	require.NoError(t, err)
	require.Equal(t, "aone.csv", string(b), "the earlier run stands")
}

func TestFolderOfAnotherRun(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, writeRun(t, dir, "a", false, "one.csv", "two.csv"))
	require.NoError(t, writeRun(t, dir, "a", false, "one.csv", "two.csv"), "the same plan may run again")

	err := writeRun(t, dir, "b", false, "one.csv")
	var folder *FolderError
	require.ErrorAs(t, err, &folder)
	require.ErrorContains(t, err, "run of another plan")
	require.ErrorContains(t, err, "--force")

	require.NoError(t, writeRun(t, dir, "b", true, "one.csv"))
	require.Equal(t, []string{ManifestName, "one.csv"}, names(t, dir), "two.csv of the earlier run is gone")

	require.NoError(t, os.WriteFile(filepath.Join(dir, "three.csv"), []byte("the owner's"), 0o666))
	for _, force := range []bool{false, true} {
		var keep *KeepError
		err := writeRun(t, dir, "b", force, "three.csv")
		require.ErrorAs(t, err, &keep)
		require.ErrorContains(t, err, "three.csv")
		require.NotContains(t, err.Error(), "--force", "advice must not lose the file")
	}
	require.Equal(t, []string{ManifestName, "one.csv", "three.csv"}, names(t, dir))
	require.NoError(t, writeRun(t, dir, "b", true, "one.csv"))
	require.Contains(t, names(t, dir), "three.csv", "a file no manifest names is never removed")
}

// A manifest that is not ours is another program's file: no flag replaces it.
func TestForeignManifest(t *testing.T) {
	for name, content := range map[string]string{"not JSON": "hello", "another program's": `{"name":"web app"}`, "cut": `{"plan_sha256":"a`} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			at := filepath.Join(dir, ManifestName)
			require.NoError(t, os.WriteFile(at, []byte(content), 0o666))
			for _, force := range []bool{false, true} {
				var folder *FolderError
				require.ErrorAs(t, writeRun(t, dir, "a", force, "one.csv"), &folder)
				require.ErrorContains(t, folder, "move that file away")
			}
			kept, err := os.ReadFile(at)
			require.NoError(t, err)
			require.Equal(t, content, string(kept))
		})
	}
}

// What the system refuses is not called a foreign run.
func TestUnreadableManifest(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(dir, ManifestName), 0o777)) // reading a folder fails for root too
	err := writeRun(t, dir, "a", true, "one.csv")
	require.ErrorContains(t, err, "nothing was changed")
	require.NotContains(t, err.Error(), "not of a run")
	require.NotContains(t, err.Error(), "--force")
}

// TestManifestCannotReachOut holds a set to its folder, whatever a manifest says.
func TestManifestCannotReachOut(t *testing.T) {
	parent := t.TempDir()
	dir := filepath.Join(parent, "out")
	require.NoError(t, os.Mkdir(dir, 0o777))
	require.NoError(t, os.WriteFile(filepath.Join(parent, "keep.csv"), nil, 0o666))
	require.NoError(t, os.WriteFile(filepath.Join(dir, ManifestName),
		[]byte(`{"plan_sha256":"a","files":[{"name":"../keep.csv"},{"name":".."},{"name":"."},{"name":""}]}`), 0o666))
	require.NoError(t, writeRun(t, dir, "a", false, "one.csv"))
	require.FileExists(t, filepath.Join(parent, "keep.csv"))
}

func TestUnbalancedCounts(t *testing.T) {
	dir := t.TempDir()
	set, err := NewSet(dir, Claim{Plan: "a"})
	require.NoError(t, err)
	_, err = set.Create("one.csv")
	require.NoError(t, err)
	err = set.Commit(&Manifest{PlanSHA256: "a", Counts: Counts{In: 10, Out: 8, Rejected: 1}})
	require.ErrorIs(t, err, ErrUnbalanced)
	require.Empty(t, names(t, dir))
}

func TestManifestSameBytes(t *testing.T) {
	read := func() string {
		dir := t.TempDir()
		set, err := NewSet(dir, Claim{Plan: "a"})
		require.NoError(t, err)
		for _, name := range []string{"b.csv", "a.csv"} {
			_, err := set.Create(name)
			require.NoError(t, err)
		}
		require.NoError(t, set.Commit(&Manifest{
			About: About{Version: "0.1.0"}, PlanSHA256: "a", Counts: Counts{In: 240, Out: 236, Rejected: 4},
			Seeds: []Seed{{"draws", math.MaxUint64}}, Plan: map[string]any{"z": 1, "a": 2.5, "name": "R&D <1>"},
		}))
		b, err := os.ReadFile(filepath.Join(dir, ManifestName))
		require.NoError(t, err)
		return string(b)
	}
	first := read()
	require.Equal(t, first, read())
	require.Contains(t, first, `"equation": "240 in = 236 out + 4 rejected"`)
	require.Contains(t, first, `"value": "18446744073709551615"`)
	require.Contains(t, first, "R&D <1>")
}

func TestHashes(t *testing.T) {
	a, err := HashPlan(map[string]int{"b": 1, "a": 2})
	require.NoError(t, err)
	b, err := HashPlan(map[string]int{"a": 2, "b": 1})
	require.NoError(t, err)
	require.Equal(t, a, b)
	_, err = HashPlan(math.NaN())
	require.Error(t, err)

	// FIPS 180-4 example: SHA-256 of the three letters abc.
	path := filepath.Join(t.TempDir(), "abc")
	require.NoError(t, os.WriteFile(path, []byte("abc"), 0o666))
	in, err := HashInput(path, "register.csv")
	require.NoError(t, err)
	require.Equal(t, Input{"register.csv", 3, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"}, in)
}

func TestSheetRefusesUnknownFormat(t *testing.T) {
	set, err := NewSet(t.TempDir(), Claim{Plan: "a"})
	require.NoError(t, err)
	_, err = NewSheet(set, &Rejects, About{}, "xlsx")
	require.ErrorContains(t, err, `no format "xlsx"`)
	require.NoError(t, set.Abort())
}
