package pipeline

import (
	"fmt"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// floors are the rooms of the house from the top down. A room imports rooms of lower floors
// only. Packages within a room, such as those of pipeline/inventory, are of the room.
var floors = [][]string{
	{"cmd/plinth", "cmd/scale", "cmd/site", "cmd/measured", "cmd/fidelity", "cmd/evidence", "cmd/licences"},
	{"cmd/commands"},
	{"pipeline/inspect"},
	{"pipeline/budget", "pipeline/confirm", "pipeline/measured", "pipeline/screen", "pipeline/sheet"},
	{"pipeline/assessed"},
	{"pipeline/assess"},
	{"pipeline/areas", "pipeline/audit", "pipeline/propose", "pipeline/report"},
	{"pipeline/inventory", "pipeline/sample"},
	{"pipeline/confidence", "pipeline/extsort", "pipeline/plan", "pipeline/ranking"},
	{"pipeline/output"},
	{"pipeline/disk", "pipeline/internal/near", "pipeline/internal/sizes", "pipeline/internal/wire", "pipeline/page", "cmd/internal/keep"},
	{"retrofit"},
	{"archetypes"},
	{"hazard"},
}

// floorOf returns the room of a package and the number of its floor, -1 for none.
func floorOf(name string) (room string, floor int) {
	for i, rooms := range floors {
		for _, r := range rooms {
			if name == r || strings.HasPrefix(name, r+"/") {
				return r, i
			}
		}
	}
	return "", -1
}

// imports returns what each package of the program imports of it, without what serves tests.
func imports(t *testing.T) map[string][]string {
	list := exec.Command("go", "list", "-f", `{{.ImportPath}} {{join .Imports " "}}`, "./...")
	list.Dir = ".."
	out, err := list.Output()
	require.NoError(t, err)
	all := make(map[string][]string)
	for line := range strings.Lines(string(out)) {
		words := strings.Fields(line)
		name, ours := strings.CutPrefix(words[0], "plinth/")
		if !ours || name == "pipeline" || slices.Contains(words[1:], "testing") {
			continue
		}
		all[name] = nil
		for _, w := range words[1:] {
			if to, ours := strings.CutPrefix(w, "plinth/"); ours {
				all[name] = append(all[name], to)
			}
		}
	}
	return all
}

// TestImportsPointDown: no package imports one of its own floor or of a higher one, none of
// pipeline imports its parent, and DEVELOPERS.md shows the arrows there are. UPDATE=1
// rewrites the picture.
func TestImportsPointDown(t *testing.T) {
	arrows := make(map[string]map[string]bool) // between rooms
	for name, list := range imports(t) {
		room, floor := floorOf(name)
		require.GreaterOrEqual(t, floor, 0, "%s has no floor", name)
		if arrows[room] == nil {
			arrows[room] = make(map[string]bool)
		}
		for _, to := range list {
			other, below := floorOf(to)
			if strings.HasPrefix(name, "pipeline/") {
				assert.NotEqual(t, path.Dir(name), to, "%s imports its parent", name)
			}
			if other != room {
				assert.Greater(t, below, floor, "the arrow from %s to %s does not point down", name, to)
				arrows[room][other] = true
			}
		}
	}
	const begin, end = "<!-- rooms: make docs rewrites what follows -->\n", "<!-- /rooms -->\n"
	file := filepath.Join("..", "DEVELOPERS.md")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	before, rest, _ := strings.Cut(string(text), begin)
	_, after, found := strings.Cut(rest, end)
	require.True(t, found)
	want := before + begin + "\n" + picture(arrows) + "\n" + end + after
	if os.Getenv("UPDATE") != "" {
		require.NoError(t, os.WriteFile(file, []byte(want), 0o644))
		return
	}
	assert.Equal(t, want, string(text), "the picture of rooms is not what the imports say; run `make docs`")
}

// picture draws a line a room, floors apart. An arrow is left out where others lead there.
func picture(arrows map[string]map[string]bool) string {
	var reach func(from, to string) bool
	reach = func(from, to string) bool {
		for next := range arrows[from] {
			if next == to || reach(next, to) {
				return true
			}
		}
		return false
	}
	var b strings.Builder
	for i, rooms := range floors {
		if i > 0 {
			b.WriteString("\n")
		}
		for _, room := range rooms {
			var direct []string
			for to := range arrows[room] {
				around := false
				for next := range arrows[room] {
					around = around || reach(next, to)
				}
				if !around {
					direct = append(direct, strings.TrimPrefix(to, "pipeline/"))
				}
			}
			slices.Sort(direct)
			line := fmt.Sprintf("    %-24s", room)
			if len(direct) > 0 {
				line += "-> " + strings.Join(direct, ", ")
			}
			b.WriteString(strings.TrimRight(line, " ") + "\n")
		}
	}
	return b.String()
}
