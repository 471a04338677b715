package screen

import (
	"bufio"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/output"
	"plinth/pipeline/plan"
	"plinth/pipeline/sample"
)

// plainly makes the demo in dir ready, without draws and with two formats.
func plainly(t testing.TB, dir string) *assess.Study {
	t.Helper()
	p, err := plan.Load(filepath.Join(dir, sample.PlanFile))
	require.NoError(t, err)
	p.Uncertainty.Draws = 0
	p.Output.Formats = []string{output.FormatParquet, output.FormatCSV}
	study, err := assess.Open(p)
	require.NoError(t, err)
	return study
}

// childFolder is set where the test binary runs as the process that is killed.
const childFolder = "PLINTH_TEST_CHILD"

// TestChild is no test but the process that others start: it says "begun", screens
// with a checkpoint every 25 rows, and says how many rows it found done.
func TestChild(t *testing.T) {
	dir := os.Getenv(childFolder)
	if dir == "" {
		t.Skip("started by other tests in a process of its own")
	}
	study := plainly(t, dir)
	fmt.Println("begun")
	res, err := Stock(context.Background(), study,
		assess.Settings{Workers: 2, Memory: 1 << 20, Resume: true, Checkpoint: 25})
	require.NoError(t, err)
	fmt.Println("resumed", res.Resumed)
}

// child starts TestChild on a folder, kills it after a while, 0 for never, and
// returns how many rows it found done, -1 if it was killed, and how long it took.
func child(t *testing.T, dir string, after time.Duration) (resumed int64, took time.Duration) {
	t.Helper()
	c := exec.Command(os.Args[0], "-test.run=^TestChild$", "-test.v")
	c.Env = append(os.Environ(), childFolder+"="+dir)
	out, err := c.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, c.Start())
	var begun time.Time
	resumed = -1
	var said strings.Builder
	for lines := bufio.NewScanner(out); lines.Scan(); {
		line := lines.Text()
		said.WriteString(line + "\n")
		if line == "begun" {
			begun = time.Now()
			if after > 0 {
				time.AfterFunc(after, func() { _ = c.Process.Kill() }) // it may have ended
			}
		}
		if n, ok := strings.CutPrefix(line, "resumed "); ok {
			resumed, err = strconv.ParseInt(n, 10, 64)
			require.NoError(t, err)
		}
	}
	err = c.Wait()
	require.True(t, err == nil || after > 0, said.String())
	require.True(t, err == nil || c.ProcessState.ExitCode() == -1, "ended by the signal, not by itself: %s",
		&said)
	return resumed, time.Since(begun)
}

// A screening that is killed at any moment, and again when it is gone on with, gives
// the bytes of one that nothing disturbed.
func TestKilledAtAnyMoment(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	dir := town.New(t, 500)
	_, whole := child(t, dir, 0)
	want := town.Files(t, dir)
	fresh := func() { require.NoError(t, os.RemoveAll(filepath.Join(dir, "out"))) }
	fresh()
	r := rand.New(rand.NewPCG(9, 9))
	gone := int64(0) // rows that were found done
	for kills := 0; kills < 20; {
		resumed, _ := child(t, dir, time.Duration(r.Float64()*float64(whole)))
		if kills++; resumed >= 0 { // it was faster than the signal
			gone += resumed
			town.Alike(t, want, dir)
			fresh()
		}
	}
	resumed, _ := child(t, dir, 0)
	town.Alike(t, want, dir)
	assert.Positive(t, gone+resumed, "no process went on from a checkpoint")
}

// stopped screens until so many rows have gone and is then cancelled.
func stopped(t testing.TB, dir string, s assess.Settings, rows int64) error {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	s.Progress = func(_ string, n, _ int64) {
		if n >= rows {
			cancel()
		}
	}
	_, err := Stock(ctx, plainly(t, dir), s)
	return err
}

// A run that was interrupted gives the same bytes when it is gone on with, whatever
// the workers, the memory and the distance of checkpoints before and after.
func TestResumeSameBytes(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	dir := town.New(t, 600)
	_, err := Stock(context.Background(), plainly(t, dir), assess.Settings{})
	require.NoError(t, err)
	want := town.Files(t, dir)
	for _, c := range []struct{ first, then assess.Settings }{
		{assess.Settings{Workers: 1, Checkpoint: 50},
			assess.Settings{Workers: 8, Checkpoint: 100, Memory: 1}},
		{assess.Settings{Workers: 8, Checkpoint: 37, Memory: 1}, assess.Settings{Workers: 2}},
		{assess.Settings{Workers: 2, Checkpoint: 200}, assess.Settings{Workers: 1, Checkpoint: -1}},
	} {
		err := stopped(t, dir, c.first, 400)
		var unfinished *assess.UnfinishedError
		require.ErrorAs(t, err, &unfinished)
		require.ErrorIs(t, err, context.Canceled)
		require.ErrorContains(t, err, "--resume")
		c.then.Resume = true
		res, err := Stock(context.Background(), plainly(t, dir), c.then)
		require.NoError(t, err)
		assert.Equal(t, unfinished.Done, res.Resumed)
		assert.Positive(t, res.Resumed)
		town.Alike(t, want, dir)
	}
}

// A stock that is smaller than the distance of checkpoints leaves none, and --resume
// then begins.
func TestSmallStockPaysNothing(t *testing.T) {
	dir := town.New(t, 300)
	err := stopped(t, dir, assess.Settings{}, 1)
	require.ErrorIs(t, err, context.Canceled)
	assert.NotContains(t, err.Error(), "--resume")
	assert.NoDirExists(t, filepath.Join(dir, "out", output.WorkingName))
	res, err := Stock(context.Background(), plainly(t, dir), assess.Settings{Resume: true})
	require.NoError(t, err)
	assert.Zero(t, res.Resumed)
}

// What has changed since the run began is refused by name, and nothing is lost: put
// back, the run goes on.
func TestResumeRefusesWhatDiffers(t *testing.T) {
	if testing.Short() {
		t.Skip("screens the demo several times")
	}
	dir := town.New(t, 400)
	s := assess.Settings{Checkpoint: 50}
	require.Error(t, stopped(t, dir, s, 200))
	resume := func(s assess.Settings) error {
		s.Resume = true
		_, err := Stock(context.Background(), plainly(t, dir), s)
		return err
	}
	edited := func(name, old, new string, err func() error) error {
		path := filepath.Join(dir, name)
		b, e := os.ReadFile(path)
		require.NoError(t, e)
		require.Contains(t, string(b), old)
		require.NoError(t, os.WriteFile(path, []byte(strings.Replace(string(b), old, new, 1)), 0o600))
		defer func() { require.NoError(t, os.WriteFile(path, b, 0o600)) }()
		return err()
	}
	again := func() error { return resume(s) }
	var refused *ResumeError
	for _, c := range []struct {
		says string
		err  error
	}{
		{"the plan is not the one", edited(sample.PlanFile, "life_yr = 50", "life_yr = 40", again)},
		{"buildings.csv is not the file", edited(sample.RegisterFile, "CS-00100", "CS-99100", again)},
		{"hazard.csv is not the file", edited(sample.HazardFile, "0.03216", "0.03217", again)},
		{"another program", resume(assess.Settings{Version: "2.0"})},
		{"the checkpoint cannot be read",
			edited(filepath.Join("out", output.WorkingName, output.CheckpointName), `"replace": false`,
				`"replace": true`, again)},
	} {
		require.ErrorAs(t, c.err, &refused, c.says)
		assert.ErrorContains(t, c.err, c.says)
		assert.ErrorContains(t, c.err, "--force")
	}
	var folder *output.FolderError
	_, err := Stock(context.Background(), plainly(t, dir), assess.Settings{})
	require.ErrorAs(t, err, &folder, "not begun anew unasked")
	require.NoError(t, again())
}

// A sorted run of a checkpoint that was damaged is refused, and --force begins anew.
func TestResumeRefusesDamagedRun(t *testing.T) {
	dir := town.New(t, 400)
	require.Error(t, stopped(t, dir, assess.Settings{Checkpoint: 50}, 200))
	runs, err := filepath.Glob(filepath.Join(dir, "out", output.WorkingName, "*", "run-000000"))
	require.NoError(t, err)
	require.NotEmpty(t, runs)
	b, err := os.ReadFile(runs[0])
	require.NoError(t, err)
	b[len(b)/2] ^= 4
	require.NoError(t, os.WriteFile(runs[0], b, 0o600))
	_, err = Stock(context.Background(), plainly(t, dir), assess.Settings{Resume: true})
	var refused *ResumeError
	require.ErrorAs(t, err, &refused)
	assert.ErrorContains(t, err, "checksum")
	assert.ErrorContains(t, err, runs[0])
	_, err = Stock(context.Background(), plainly(t, dir), assess.Settings{Replace: true})
	require.NoError(t, err)
	assert.NoDirExists(t, filepath.Join(dir, "out", output.WorkingName))
}
