package commands

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"plinth/pipeline/page"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"plinth": func() { os.Exit(Main(os.Args, os.Stdin, os.Stdout, os.Stderr)) },
	})
}

// TestScripts runs the golden command-line cases of testdata/script. UPDATE=1
// rewrites the files that a case compares with; read the diff before
// committing it.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("testdata", "script"),
		UpdateScripts:       os.Getenv("UPDATE") != "",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"exits": exits, "narrow": narrow},
	})
}

// exits runs a command that must end with the given exit code:
//
//	exits 3 plinth screen town/plan.toml
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND [ARG ...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// narrow holds what a command printed to the width of a terminal that everybody has,
// without a colour in it:
//
//	narrow stdout
func narrow(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: narrow stdout|FILE")
	}
	for _, line := range strings.Split(ts.ReadFile(args[0]), "\n") {
		if n := len([]rune(line)); n > page.Width && !strings.HasPrefix(line, "Results are in ") {
			ts.Fatalf("%d characters: %s", n, line)
		}
		if strings.Contains(line, "\x1b") {
			ts.Fatalf("a colour: %q", line)
		}
	}
}
