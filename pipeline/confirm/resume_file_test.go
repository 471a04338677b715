package confirm

import (
	"bytes"
	"context"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/output"
	"plinth/pipeline/plan"
	"plinth/pipeline/sample"
)

// Lines come back as they were written, numbers that are none included; a torn line, a
// damaged one and those of another run do not, and harm no other.
func TestResumeFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), resumeName)
	one := result{rows: []output.Confirmed{{BuildingID: "a", DriftHistory: math.Pi},
		{BuildingID: "a", Score: math.Inf(-1)}}, best: 1.0 / 3}
	openResumeFile(path, "run", 0o600).put("a", one)
	openResumeFile(path, "other", 0o600).put("b", one)
	info, err := os.Stat(path)
	require.NoError(t, err)
	assert.True(t, runtime.GOOS == "windows" || info.Mode().Perm()&0o077 == 0,
		"what a private run keeps is its owner's alone")
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, append(text, bytes.TrimSpace(text)[:90]...), 0o666)) // torn
	openResumeFile(path, "run", 0o600).put("c", one)

	assert.True(t, isResumeFile(path), "torn, and still ours")
	k := openResumeFile(path, "run", 0o600)
	for _, id := range []string{"a", "c"} {
		got, ok := k.get(id)
		assert.True(t, ok, id)
		assert.Equal(t, one, got)
	}
	_, ok := k.get("b")
	assert.False(t, ok, "of another run")

	text, err = os.ReadFile(path)
	require.NoError(t, err)
	text[200] ^= 1 // within the first entry
	require.NoError(t, os.WriteFile(path, text, 0o666))
	k = openResumeFile(path, "run", 0o600)
	_, ok = k.get("a")
	assert.False(t, ok, "damaged")
	_, ok = k.get("c")
	assert.True(t, ok)
	k.drop()
	assert.NoFileExists(t, path)
	require.NoError(t, os.WriteFile(path, []byte("\nnotes of a meeting\n"), 0o666))
	assert.False(t, isResumeFile(path), "an owner's file of that name")
}

// A confirmation that is stopped after some buildings and run again writes the bytes of
// one that was not, and leaves nothing behind.
func TestConfirmResumes(t *testing.T) {
	if testing.Short() {
		t.Skip("runs time histories several times")
	}
	dir := town.New(t, sample.Buildings)
	_, want := confirmedTown(t, dir, 1)
	path := filepath.Join(dir, "out", resumeName)
	assert.NoFileExists(t, path)

	p, err := plan.Load(filepath.Join(dir, sample.PlanFile))
	require.NoError(t, err)
	p.Confirm.Shortlist, p.Confirm.Measures, p.Confirm.Records, p.Confirm.Pictures = 4, 2, 3, 2
	study, err := assess.Open(p)
	require.NoError(t, err)
	ctx, stop := context.WithCancel(context.Background())
	go func() { // as soon as one building is kept
		for {
			if _, err := os.Stat(path); err == nil {
				stop()
				return
			}
		}
	}()
	_, err = Shortlist(ctx, study, assess.Settings{Workers: 1, Replace: true})
	require.ErrorIs(t, err, context.Canceled)
	assert.FileExists(t, path)
	_, got := confirmedTown(t, dir, 1)
	assert.True(t, bytes.Equal(want, got))
	assert.NoFileExists(t, path)
}
