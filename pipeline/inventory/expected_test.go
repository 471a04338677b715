package inventory

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// How many rows there will be is known about after the first batches, and at the end.
func TestExpectedRows(t *testing.T) {
	const n = 20_000
	inv := registerPlan()
	inv.Path = filepath.Join(t.TempDir(), "register.csv")
	require.NoError(t, os.WriteFile(inv.Path, register(n), 0o600))
	r, err := Open(inv, Options{})
	require.NoError(t, err)
	defer r.Close()
	var raw Raw
	for range 5 {
		require.NoError(t, r.Next(&raw))
	}
	assert.InEpsilon(t, n, r.Expected(), 0.15, "64 kB of some 600 are read ahead")
	for err == nil {
		err = r.Next(&raw)
	}
	assert.EqualValues(t, n, r.Expected())
	small := open(t, smallHeader+smallRow, smallPlan(), Options{})
	require.NoError(t, small.Next(&raw))
	assert.Zero(t, small.Expected(), "not of a file")
}
