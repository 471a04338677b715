package inventory

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/inventory/seen"
)

func TestClosedReaderKeepsItsReport(t *testing.T) {
	r := open(t, smallHeader+rowWith("ref=A1")+rowWith("ref=A1"), smallPlan(), Options{})
	_, rejects, rep := read(t, r)
	require.Len(t, rejects, 1)
	require.NoError(t, r.Close())
	assert.Equal(t, 2, rep.Tally.In)
	assert.Equal(t, seen.IDs{}, r.intake.ids, "what grew with the register is gone")
}
