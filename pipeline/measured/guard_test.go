package measured

import (
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestNoFitReadsWhatIsMeasured: the packages whose constants are fitted, and the command
// that fits them, neither import this package nor its command: no number of the folder can
// enter a fit.
func TestNoFitReadsWhatIsMeasured(t *testing.T) {
	fits := []string{"./retrofit/demand", "./retrofit/history/fidelity", "./cmd/fidelity"}
	list := exec.Command("go", append([]string{"list", "-deps"}, fits...)...)
	list.Dir = root
	out, err := list.Output()
	require.NoError(t, err)
	deps := strings.Fields(string(out))
	require.Contains(t, deps, "plinth/retrofit/demand")
	assert.NotContains(t, deps, "plinth/pipeline/measured")
	assert.NotContains(t, deps, "plinth/cmd/measured")
}

// TestOnlyTheCommandReadsTheFolder: no Go file but those of the command and of this package
// names the folder, or joins its name from parts.
func TestOnlyTheCommandReadsTheFolder(t *testing.T) {
	allowed := []string{filepath.Join("cmd", "measured"), filepath.Join("pipeline", "measured")}
	found := 0
	require.NoError(t, filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".go" {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		named := func(name string) bool { return strings.Contains(string(text), name) }
		if !named("testdata/measured") && !named(`"testdata", "measured"`) {
			return nil
		}
		in, err := filepath.Rel(root, filepath.Dir(path))
		if err != nil {
			return err
		}
		found++
		assert.Contains(t, allowed, in, "%s names the folder; only the page may be made from it", path)
		return nil
	}))
	assert.Positive(t, found)
}

// TestOnlyTheCommandImportsThePackage: nothing that computes depends on the comparison.
func TestOnlyTheCommandImportsThePackage(t *testing.T) {
	list := exec.Command("go", "list", "-f", `{{.ImportPath}} {{join .Imports " "}}`, "./...")
	list.Dir = root
	out, err := list.Output()
	require.NoError(t, err)
	for line := range strings.Lines(string(out)) {
		name, imports, _ := strings.Cut(strings.TrimSpace(line), " ")
		if name != "plinth/cmd/measured" {
			assert.NotContains(t, strings.Fields(imports), "plinth/pipeline/measured", name)
		}
	}
}
