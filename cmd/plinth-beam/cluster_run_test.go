package main

import (
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"plinth/pipeline/sample"
)

// A job service and workers in processes of their own write what one process writes.
func TestClusterTown(t *testing.T) {
	c := clusterFor(t)
	path := town(t, sample.Buildings)
	add(t, path)
	start := time.Now()
	said, err := c.submit(t, path, "--rows=16", "--ranges=5")
	require.NoError(t, err, said)
	t.Logf("%v wall; CPU: job service %v, workers %v; %d bytes over the loopback interface",
		time.Since(start), c.service.cpu(t), c.pool.cpu(t), loopback(t))
	same(t, local(t, path), filepath.Join(filepath.Dir(path), "out"))
}
