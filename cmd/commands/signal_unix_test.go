//go:build unix

package commands

import (
	"bytes"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// signalled runs a command line in this process and signals it until it returns. The
// test listens too, so that a signal too many ends nothing, and waits for each, so that
// none comes when the next command runs.
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
		case <-time.After(5 * time.Millisecond):
			require.NoError(t, syscall.Kill(os.Getpid(), s))
			<-mine
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
		{syscall.SIGHUP, 129, []string{"screen", plan}},
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

// signalledAt runs a command line in this process and signals it once there is a file
// at path.
func signalledAt(t *testing.T, path string, s syscall.Signal, args ...string) (code int, stderr string) {
	t.Helper()
	mine := make(chan os.Signal, 1)
	signal.Notify(mine, s)
	defer signal.Stop(mine)
	done, gone := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(gone)
		for {
			select {
			case <-done:
				return
			case <-time.After(5 * time.Millisecond):
			}
			if _, err := os.Stat(path); err == nil {
				if syscall.Kill(os.Getpid(), s) == nil {
					<-mine
				}
				return
			}
		}
	}()
	var said bytes.Buffer
	code = Main(append([]string{"plinth"}, args...), nil, io.Discard, &said)
	close(done)
	<-gone
	return code, said.String()
}

// A screening with checkpoints keeps them and says how to go on.
func TestSignalKeepsCheckpoint(t *testing.T) {
	if testing.Short() {
		t.Skip("runs the program and stops it")
	}
	dir := filepath.Join(t.TempDir(), "town")
	require.Equal(t, exitDone, Main([]string{"plinth", "sample", "--buildings", "20000", dir}, nil, io.Discard, io.Discard))
	plan := filepath.Join(dir, "plan.toml")
	code, said := signalledAt(t, filepath.Join(dir, "out", "plinth-unfinished", "checkpoint"), syscall.SIGTERM, "screen", "--checkpoint", "100", plan)
	require.Equal(t, 143, code)
	assert.Regexp(t, `plinth: terminated; no file was left half written\nplinth: \d+00 rows are done and kept: .plinth screen --resume `+regexp.QuoteMeta(plan)+`. goes on from there\n`, said)
	var refused bytes.Buffer
	require.Equal(t, exitUnusable, Main([]string{"plinth", "screen", plan}, nil, io.Discard, &refused))
	assert.Contains(t, refused.String(), "--resume to go on with it")
	require.Equal(t, exitUsage, Main([]string{"plinth", "screen", "--resume", "--force", plan}, nil, io.Discard, io.Discard))
}

// A confirmation keeps the buildings that are done and says how to go on; the next gives
// the bytes of one that nothing interrupted.
func TestSignalKeepsConfirmation(t *testing.T) {
	if testing.Short() {
		t.Skip("runs time histories and stops them")
	}
	dir := filepath.Join(t.TempDir(), "town")
	require.Equal(t, exitDone, Main([]string{"plinth", "sample", dir}, nil, io.Discard, io.Discard))
	plan := filepath.Join(dir, "plan.toml")
	text, err := os.ReadFile(plan)
	require.NoError(t, err)
	text = append(text, "\n[confirm]\nshortlist = 6\nmeasures = 2\nrecords = 3\npictures = 2\n"...)
	require.NoError(t, os.WriteFile(plan, text, 0o666))
	confirm := []string{"plinth", "confirm", "--workers", "1", plan}
	require.Equal(t, exitRejected, Main(confirm, nil, io.Discard, io.Discard))
	want := contents(t, filepath.Join(dir, "out", "confirm"))
	require.NoError(t, os.RemoveAll(filepath.Join(dir, "out")))

	kept := filepath.Join(dir, "out", "confirm-unfinished")
	code, said := signalledAt(t, kept, syscall.SIGINT, confirm[1:]...)
	require.Equal(t, 130, code)
	assert.Regexp(t, `^plinth: interrupted; no file was left half written\nplinth: [1-6] buildings are done and kept: .plinth confirm `+regexp.QuoteMeta(plan)+`. goes on from there\n$`, said)
	assert.FileExists(t, kept)
	assert.Empty(t, contents(t, filepath.Join(dir, "out", "confirm")))
	require.Equal(t, exitRejected, Main(confirm, nil, io.Discard, io.Discard))
	assert.Equal(t, want, contents(t, filepath.Join(dir, "out", "confirm")))
	assert.NoFileExists(t, kept)
}

// contents returns the files of a folder by their names.
func contents(t *testing.T, dir string) map[string]string {
	all := map[string]string{}
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	for _, e := range entries {
		b, err := os.ReadFile(filepath.Join(dir, e.Name()))
		require.NoError(t, err)
		all[e.Name()] = string(b)
	}
	return all
}
