package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/report/reporttest"
)

// TestSite renders the manual and checks that every link and picture of every page exists.
func TestSite(t *testing.T) {
	to := t.TempDir()
	require.NoError(t, site(filepath.Join("..", ".."), to))
	pages := 0
	require.NoError(t, filepath.Walk(to, func(path string, info os.FileInfo, err error) error {
		if err != nil || filepath.Ext(path) != ".html" {
			return err
		}
		pages++
		b, err := os.ReadFile(path)
		for _, m := range regexp.MustCompile(`(?:href|src)="([^"#]+)`).FindAllStringSubmatch(string(b), -1) {
			if !strings.Contains(m[1], "://") {
				_, err := os.Stat(filepath.Join(filepath.Dir(path), m[1]))
				assert.NoError(t, err, path)
			}
		}
		return err
	}))
	assert.Greater(t, pages, 20)
	reporttest.InBrowser(t, "plain.mjs", filepath.Join(to, "docs", "decision.html"))
}
