package commands

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
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
	})
}
