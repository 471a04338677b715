package inventory

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the tables into the manual's page")

// The manual's page holds the tables the program works with.
func TestPage(t *testing.T) {
	path := filepath.Join("..", "..", "docs", "methods", "register.md")
	page, err := os.ReadFile(path)
	require.NoError(t, err)
	const begin, end = "<!-- tables -->\n", "<!-- end of tables -->\n"
	head, rest, ok := strings.Cut(string(page), begin)
	require.True(t, ok)
	_, tail, ok := strings.Cut(rest, end)
	require.True(t, ok)
	var tables strings.Builder
	tables.WriteString("\n")
	require.NoError(t, WriteTables(&tables))
	want := head + begin + tables.String() + "\n" + end + tail
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(want), 0o644))
		return
	}
	require.True(t, want == string(page), "run go test ./pipeline/inventory -run TestPage -update and read the difference")
}
