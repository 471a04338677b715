package commands

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/sample"
)

// A processor is a way to run a program: as it is, with extensions of the processor
// turned off, or under an emulator.
type processor struct {
	before []string // of the command line
	env    string
}

// everything are the commands that write files, pages among them, on a town of a few
// buildings, two of them with time histories.
var everything = [][]string{
	{"screen", "town/plan.toml"},
	{"confirm", "town/plan.toml"},
	{"budget", "town/plan.toml"},
	{"inspect", "town/plan.toml"},
	{"check", "--html", "town/out/check.html", "town/plan.toml"},
	{"explain", "--html", "town/out/explain.html", "town/plan.toml", "CS-00001"},
	{"explain", "--markdown", "town/out/explain.md", "town/plan.toml", "CS-00001"},
}

// filesOf runs everything with a program on a processor and returns the files by path.
func filesOf(t *testing.T, program string, p processor) map[string][]byte {
	t.Helper()
	dir := t.TempDir()
	run := func(args ...string) {
		line := append(append(p.before[:len(p.before):len(p.before)], program), args...)
		c := exec.CommandContext(t.Context(), line[0], line[1:]...)
		c.Dir, c.Env = dir, append(os.Environ(), p.env)
		text, err := c.CombinedOutput()
		var exit *exec.ExitError
		if errors.As(err, &exit) && exit.ExitCode() == exitRejected {
			err = nil
		}
		require.NoError(t, err, "%v: %s", args, text)
	}
	run("sample", "--buildings", "40", "town")
	path := filepath.Join(dir, "town", sample.PlanFile)
	plan, err := os.ReadFile(path)
	require.NoError(t, err)
	less := strings.NewReplacer("draws = 199", "draws = 19", `"geojson",`, `"geojson", "geojsonl", "mbtiles",`)
	text := less.Replace(string(plan))
	text += "\n[confirm]\nshortlist = 2\nmeasures = 2\nrecords = 2\npictures = 1\n"
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	for _, args := range everything {
		run(args...)
	}
	all := make(map[string][]byte)
	folder := filepath.Join(dir, "town")
	require.NoError(t, filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		if filepath.Base(filepath.Dir(path)) == "assessed" {
			return nil // what a run keeps for itself, unrounded: equal on one processor
		}
		name, _ := filepath.Rel(dir, path)
		all[filepath.ToSlash(name)], err = os.ReadFile(path)
		return err
	}))
	return all
}

// built returns the program built for a processor.
func built(t *testing.T, arch string) string {
	t.Helper()
	program := filepath.Join(t.TempDir(), "plinth-"+arch)
	c := exec.CommandContext(t.Context(), "go", "build", "-trimpath", "-o", program, "plinth/cmd/plinth")
	c.Env = append(os.Environ(), "GOOS="+runtime.GOOS, "GOARCH="+arch, "CGO_ENABLED=0")
	text, err := c.CombinedOutput()
	require.NoError(t, err, "%s", text)
	return program
}

// native holds what the program writes on this processor as it is, run once.
var native struct {
	once  sync.Once
	files map[string][]byte
}

// nativeFiles returns what the program writes on this processor.
func nativeFiles(t *testing.T) map[string][]byte {
	t.Helper()
	native.once.Do(func() { native.files = filesOf(t, built(t, runtime.GOARCH), processor{}) })
	return native.files
}

// requireSameFiles checks that two runs wrote the same bytes.
func requireSameFiles(t *testing.T, want, got map[string][]byte) {
	t.Helper()
	require.Greater(t, len(want), 20)
	require.Len(t, got, len(want))
	for name, b := range want {
		assert.True(t, bytes.Equal(b, got[name]), name)
	}
}

// Files are the same whether the processor has vector instructions or not.
func TestSameBytesWithoutVectors(t *testing.T) {
	if testing.Short() {
		t.Skip("runs everything twice")
	}
	if runtime.GOARCH != "amd64" {
		t.Skip("turns off extensions of amd64 only")
	}
	plain := processor{env: "GODEBUG=cpu.avx2=off,cpu.fma=off"}
	requireSameFiles(t, nativeFiles(t), filesOf(t, built(t, runtime.GOARCH), plain))
}

// Files are the same on another kind of processor, which joins multiplications and
// additions and converts numbers in its own way.
func TestSameBytesOnArm64(t *testing.T) {
	if testing.Short() {
		t.Skip("builds the program for another processor: minutes the first time")
	}
	emulator, err := exec.LookPath("qemu-aarch64")
	if err != nil || runtime.GOOS != "linux" {
		t.Skip("needs Linux and qemu-aarch64 (package qemu-user) to run what is built for arm64")
	}
	requireSameFiles(t, nativeFiles(t), filesOf(t, built(t, "arm64"), processor{before: []string{emulator}}))
}

var (
	declared = regexp.MustCompile(`(?i)(?:^|[^-\w])` + // a name, a sign, and what is said
		`(?:fill|stroke|stop-color|color|background(?:-color)?|border(?:-\w+)*|outline)\s*[:=]\s*` +
		`(?:"([^"]*)"|'([^']*)'|([^;"'{}<>]*))`)
	hexadecimal = regexp.MustCompile(`^#(?:[0-9a-fA-F]{3,4}|[0-9a-fA-F]{6}|[0-9a-fA-F]{8})$`)
	hash        = regexp.MustCompile(`#[^\s,;)"'<]*`)
)

// Every colour of every page and picture is one: what begins with # goes on with three,
// four, six or eight hexadecimal digits.
func TestColoursAreColours(t *testing.T) {
	if testing.Short() {
		t.Skip("runs everything")
	}
	seen := 0
	for name, b := range nativeFiles(t) {
		switch filepath.Ext(name) {
		case ".html", ".svg", ".sld":
		default:
			continue
		}
		assert.False(t, bytes.Contains(b, []byte("#-")), name)
		for _, m := range declared.FindAllStringSubmatch(string(b), -1) {
			for _, colour := range hash.FindAllString(m[1]+m[2]+m[3], -1) {
				seen++
				assert.Regexp(t, hexadecimal, colour, "%s: %s", name, m[0])
			}
		}
	}
	assert.Greater(t, seen, 100)
}
