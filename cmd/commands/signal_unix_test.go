//go:build unix

package commands

import (
	"bytes"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// signalled runs a command line in this process and signals it until it returns. The
// test listens too, so that a signal too many ends nothing.
func signalled(t *testing.T, s syscall.Signal, args ...string) (code int, stderr string) {
	t.Helper()
	mine := make(chan os.Signal, 1)
	signal.Notify(mine, s)
	defer signal.Stop(mine)
	var said bytes.Buffer
	done := make(chan int)
	go func() { done <- Main(append([]string{"plinth"}, args...), nil, io.Discard, &said) }()
	for {
		select {
		case code := <-done:
			return code, said.String()
		case <-time.After(50 * time.Millisecond):
			require.NoError(t, syscall.Kill(os.Getpid(), s))
		}
	}
}

// Every command that takes long ends on a signal, says so, and leaves no file that
// was not there before.
func TestSignals(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "town")
	require.Equal(t, exitDone, Main([]string{"plinth", "sample", "--buildings", "20000", dir}, nil, io.Discard, io.Discard))
	plan := filepath.Join(dir, "plan.toml")
	for _, c := range []struct {
		signal syscall.Signal
		code   int
		args   []string
	}{
		{syscall.SIGINT, 130, []string{"screen", plan}},
		{syscall.SIGTERM, 143, []string{"screen", plan}},
		{syscall.SIGINT, 130, []string{"check", "--html", filepath.Join(dir, "out", "check.html"), plan}},
		{syscall.SIGTERM, 143, []string{"confirm", plan}},
		{syscall.SIGINT, 130, []string{"budget", plan}},
		{syscall.SIGINT, 130, []string{"inspect", plan}},
		{syscall.SIGINT, 130, []string{"explain", plan, "CS-20000"}},
		{syscall.SIGTERM, 143, []string{"sample", "--buildings", "10000000", filepath.Join(dir, "out")}},
	} {
		code, said := signalled(t, c.signal, c.args...)
		assert.Equal(t, c.code, code, "%v: %s", c.args, said)
		assert.Contains(t, said, "no file was left half written", c.args)
		left := leftIn(t, filepath.Join(dir, "out"))
		assert.Empty(t, left, c.args)
	}
}

// leftIn returns the files in a folder and below it, but for the small files of a
// demo, which are whole.
func leftIn(t *testing.T, dir string) []string {
	var left []string
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() && !strings.HasSuffix(path, "plan.toml") && !strings.HasSuffix(path, "hazard.csv") {
			left = append(left, path)
		}
		return err
	})
	if !os.IsNotExist(err) {
		require.NoError(t, err)
	}
	return left
}

// A screening with checkpoints keeps them and says how to go on.
func TestSignalKeepsCheckpoint(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "town")
	require.Equal(t, exitDone, Main([]string{"plinth", "sample", "--buildings", "20000", dir}, nil, io.Discard, io.Discard))
	plan := filepath.Join(dir, "plan.toml")
	checkpoint := filepath.Join(dir, "out", "plinth-unfinished", "checkpoint")
	mine := make(chan os.Signal, 1)
	signal.Notify(mine, syscall.SIGTERM)
	defer signal.Stop(mine)
	go func() {
		for {
			if _, err := os.Stat(checkpoint); err == nil {
				_ = syscall.Kill(os.Getpid(), syscall.SIGTERM)
				return
			}
			time.Sleep(10 * time.Millisecond)
		}
	}()
	var said bytes.Buffer
	require.Equal(t, 143, Main([]string{"plinth", "screen", "--checkpoint", "100", plan}, nil, io.Discard, &said))
	assert.Regexp(t, `plinth: terminated; no file was left half written\nplinth: \d+00 rows are done and kept: .plinth screen --resume. goes on from there\n`, said.String())
	said.Reset()
	require.Equal(t, exitUnusable, Main([]string{"plinth", "screen", plan}, nil, io.Discard, &said))
	assert.Contains(t, said.String(), "--resume to go on with it")
	require.Equal(t, exitUsage, Main([]string{"plinth", "screen", "--resume", "--force", plan}, nil, io.Discard, &said))
}
