// Package reporttest holds what the tests of pages share: texts that break careless
// pages, and a browser to open pages in.
package reporttest

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Hostile are texts of an owner that break careless pages.
var Hostile = []string{
	"Town hall", `</script><script>alert("name")</script>`, `<img src=x onerror=alert(1)>`, `"><svg onload=alert(1)>`, "=cmd|' /C calc'!A0",
	"\u202egnirts\u202c \u2066isolate", strings.Repeat("long ", 2000), strings.Repeat("unbroken", 1250), "{{.Title}} ${1+1} `x`", "<!-- <script>", "]]>", "\x00\x07bell",
	"javascript:alert(1)", "\u2028line", "naïve 学校 مدرسة", "👩‍👩‍👧‍👦 🏥", "&lt;b&gt;",
}

// InBrowser opens the page at path in Chromium by a script of testdata/readers, which
// must have nothing to say against it. It skips where there is no browser. PICTURES names
// a folder to keep its pictures in, in one of the test's name.
func InBrowser(t *testing.T, script, path string) {
	t.Helper()
	if testing.Short() {
		t.Skip("starts a browser: seconds")
	}
	if _, err := exec.LookPath("node"); err != nil {
		t.Skip("needs Node.js 20 or later")
	}
	readers := filepath.Join(root(t), "testdata", "readers")
	if _, err := os.Stat(filepath.Join(readers, "node_modules", "playwright-core")); err != nil {
		t.Skip("needs: npm ci --prefix testdata/readers")
	}
	browser := os.Getenv("CHROMIUM")
	if browser == "" {
		browser = "/usr/bin/chromium"
	}
	if _, err := os.Stat(browser); err != nil {
		t.Skip("needs Chromium: apt-get install chromium, or name it in CHROMIUM")
	}
	args := []string{filepath.Join(readers, script), path}
	if pictures := os.Getenv("PICTURES"); pictures != "" {
		folder := filepath.Join(pictures, t.Name())
		require.NoError(t, os.MkdirAll(folder, 0o777))
		args = append(args, folder)
	}
	out, err := exec.Command("node", args...).CombinedOutput()
	t.Logf("%s", out)
	require.NoError(t, err, string(out))
	require.Contains(t, string(out), ", 0 failures")
}

// root returns the folder of go.mod, above the package that is tested.
func root(t *testing.T) string {
	dir, err := os.Getwd()
	require.NoError(t, err)
	for dir != filepath.Dir(dir) {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		dir = filepath.Dir(dir)
	}
	t.Fatal("no go.mod above the test")
	return ""
}
