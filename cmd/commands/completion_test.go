package commands

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestPowershellScript holds the script that no test can run to the one that the library
// of the command line has for its own way of completing: what that one calls, ours calls
// alike, but for Invoke-Expression, which would run what was typed.
func TestPowershellScript(t *testing.T) {
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/urfave/cli/v2").Output()
	if err != nil {
		t.Skip("needs go and the module of the command line")
	}
	theirs, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(dir)), "autocomplete", "powershell_autocomplete.ps1"))
	require.NoError(t, err)
	calls := regexp.MustCompile(`[A-Z][a-z]+-[A-Z]\w+(?: -[A-Z]\w+)*|\[[\w.]+\]::new\([^)]*\)`).FindAllString(string(theirs), -1)
	assert.Contains(t, calls, "Register-ArgumentCompleter -Native -CommandName")
	for _, call := range calls {
		if call != "Invoke-Expression" {
			assert.Contains(t, powershellScript, call)
		}
	}
	assert.NotContains(t, powershellScript, "Invoke-Expression")
	for _, pair := range []string{"()", "{}", "[]"} {
		assert.Equal(t, strings.Count(powershellScript, pair[:1]), strings.Count(powershellScript, pair[1:]), pair)
	}
}
