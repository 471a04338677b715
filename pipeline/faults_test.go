package pipeline

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/assessed"
	"plinth/pipeline/budget"
	"plinth/pipeline/confirm"
	"plinth/pipeline/inspect"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/screen"
)

// reopened opens the demo in dir.
func reopened(t testing.TB, dir string) *assess.Study {
	t.Helper()
	study, err := assess.Open(town.Plan(t, dir, nil))
	require.NoError(t, err)
	return study
}

// An output folder that cannot be written to ends the run before it has begun.
func TestUnwritableFolder(t *testing.T) {
	dir := town.New(t, 50)
	out := filepath.Join(dir, "out")
	refused := func(study *assess.Study, want func(error)) {
		ctx, s := context.Background(), assess.Settings{Progress: func(string, int64, int64) { t.Error("it has begun") }}
		_, err := screen.Stock(ctx, study, s)
		want(err)
		_, err = confirm.Shortlist(ctx, study, s)
		want(err)
		_, err = budget.Choose(ctx, study, s)
		want(err)
		_, err = inspect.Find(ctx, study, s)
		want(err)
	}
	require.NoError(t, os.WriteFile(out, []byte("a file"), 0o600))
	refused(reopened(t, dir), func(err error) { require.ErrorContains(t, err, "output folder") })
	require.NoError(t, os.Remove(out))

	t.Run("no permission", func(t *testing.T) {
		require.NoError(t, os.Mkdir(out, 0o500))
		if os.WriteFile(filepath.Join(out, "probe"), nil, 0o600) == nil {
			t.Skip("this user may write to any folder")
		}
		refused(reopened(t, dir), func(err error) {
			var none *assessed.NotCurrentError // what budget and inspect miss before they would write
			if !errors.As(err, &none) {
				require.ErrorIs(t, err, os.ErrPermission)
			}
		})
	})
}

// Every row of the tables of docs/reliability.md names a test, and every test it names
// stands in the source. make faults runs them.
func TestReliabilityPage(t *testing.T) {
	var source strings.Builder
	err := filepath.WalkDir("..", func(path string, d os.DirEntry, err error) error {
		if err == nil && d.Name() == "node_modules" {
			return filepath.SkipDir
		}
		if err != nil || !strings.HasSuffix(path, "_test.go") {
			return err
		}
		b, err := os.ReadFile(path)
		source.Write(b)
		return err
	})
	require.NoError(t, err)
	page, err := os.ReadFile(filepath.Join("..", "docs", "reliability.md"))
	require.NoError(t, err)
	named := 0
	for line := range strings.Lines(string(page)) {
		if !strings.HasPrefix(line, "| ") || strings.HasPrefix(line, "| ---") || strings.HasSuffix(line, "| test |\n") {
			continue
		}
		tests := regexp.MustCompile("`((?:Test|Fuzz)\\w+)`").FindAllStringSubmatch(line, -1)
		assert.NotEmpty(t, tests, "no test in the row %s", line)
		for _, m := range tests {
			named++
			assert.True(t, strings.Contains(source.String(), "\nfunc "+m[1]+"("), "there is no %s", m[1])
		}
	}
	require.Greater(t, named, 50)
}
