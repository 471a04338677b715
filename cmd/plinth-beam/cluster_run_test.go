package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/output"
	"plinth/pipeline/sample"
)

// A job service and workers in processes of their own write what one process writes.
func TestClusterTown(t *testing.T) {
	c := clusterFor(t)
	path := town(t, sample.Buildings)
	add(t, path)
	c.done(t, path, "--rows=16", "--ranges=5")
	same(t, local(t, path), outOf(path))
}

// A stock of thousands, and what it costs. The cost of the job itself, which the binary sent to the job
// service leads, is what the town costs: PLINTH_BEAM_BUILDINGS=100000.
func TestClusterStock(t *testing.T) {
	c := clusterFor(t)
	path := town(t, stock(t))
	add(t, path)
	c.done(t, path)
	same(t, local(t, path), outOf(path))
}

func outOf(plan string) string { return filepath.Join(filepath.Dir(plan), "out") }

// done submits a job that must succeed and logs what it cost.
func (c *cluster) done(t *testing.T, plan string, args ...string) {
	start, bytes, service, pool := time.Now(), loopback(t), c.service.cpu(t), c.pool.cpu(t)
	said, err := c.submit(t, plan, args...)
	require.NoError(t, err, said)
	t.Logf("%v wall; job service: CPU %v, %d MB; workers: CPU %v, %d MB; %d bytes over the loopback interface",
		time.Since(start).Round(10*time.Millisecond), c.service.cpu(t)-service, c.service.peak(t),
		c.pool.cpu(t)-pool, c.pool.peak(t), loopback(t)-bytes)
}

// Workers that are killed in the midst of a run leave no manifest, so nothing that could be taken for a
// result. The same job, submitted again with --force, writes the rows of one machine and leaves nothing
// of the first behind.
func TestClusterWorkersKilled(t *testing.T) {
	c := clusterFor(t)
	path := town(t, 20000)
	failed := make(chan error, 1)
	go func() {
		_, err := c.submit(t, path)
		failed <- err
	}()
	c.whenWriting(t, path)
	c.pool.kill()
	select {
	case err := <-failed:
		require.Error(t, err)
	case <-time.After(time.Minute):
		t.Log("the job service waits for its workers without end: it is killed too")
		c.service.kill()
		require.Error(t, <-failed)
		c.startService(t)
	}
	require.NoFileExists(t, filepath.Join(outOf(path), output.ManifestName))
	c.startPool(t)
	said, err := c.submit(t, path)
	require.Error(t, err)
	require.Contains(t, said, "is not empty")
	c.done(t, path, "--force")
	same(t, local(t, path), outOf(path))
	left, err := filepath.Glob(filepath.Join(outOf(path), "*.tmp-*"))
	require.NoError(t, err)
	assert.Empty(t, left)
}

// whenWriting returns when the job of a plan writes its first range.
func (c *cluster) whenWriting(t *testing.T, plan string) {
	require.Eventually(t, func() bool {
		files, err := os.ReadDir(outOf(plan))
		return err == nil && len(files) > 0
	}, time.Minute, time.Millisecond)
}

// A register that cannot be read ends a run over machines with the words of a run on one, before a job is
// submitted. One that can be read in part, or has no rows, ends well in both.
func TestClusterBadRegister(t *testing.T) {
	c := clusterFor(t)
	path := town(t, 60)
	register := filepath.Join(filepath.Dir(path), "buildings.csv")
	text, err := os.ReadFile(register)
	require.NoError(t, err)
	for _, bad := range []struct {
		name, text string
		stops      bool
	}{
		{"no column of ids", strings.Replace(string(text), "ASSET_ID", "ASSET", 1), true},
		{"not CSV", "\x00\x01\x02", true},
		{"empty", "", true},
		{"a quotation mark without end", string(text) + "\"open,", false},
		{"no rows", strings.SplitAfter(string(text), "\n")[0], false},
	} {
		require.NoError(t, os.WriteFile(register, []byte(bad.text), 0o666))
		folder, here := onHere(t.Context(), path)
		said, there := c.submit(t, path, "--force")
		if bad.stops {
			require.Error(t, here, bad.name)
			assert.Error(t, there, bad.name)
			assert.Equal(t, "plinth-beam: "+here.Error()+"\n", said, bad.name)
			assert.NoDirExists(t, outOf(path), bad.name)
			continue
		}
		require.NoError(t, here, bad.name)
		require.NoError(t, there, "%s: %s", bad.name, said)
		one, err := output.ReadManifest(folder)
		require.NoError(t, err)
		many, err := output.ReadManifest(outOf(path))
		require.NoError(t, err)
		assert.Equal(t, one.Counts, many.Counts, bad.name)
	}
}
