package assess

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/pipeline/internal/town"
	"plinth/pipeline/plan"
	"plinth/pipeline/sample"
)

// A pipe is refused before it is opened: the run would wait for it, and read it once.
func TestPipeIsRefused(t *testing.T) {
	dir := town.New(t, 10)
	p, err := plan.Load(filepath.Join(dir, sample.PlanFile))
	require.NoError(t, err)
	p.Inventory.Path = pipe(t)
	_, err = Open(p)
	require.ErrorContains(t, err, "inventory.path: ")
	require.ErrorContains(t, err, "is a pipe or a device")
	require.ErrorContains(t, err, "save it to a file first")
}
