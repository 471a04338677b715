package screen

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"plinth/pipeline/inventory"
)

// The list of assumed fields also names those whose cell could not be used and was replaced.
func TestAssumedFieldsSayWhatWasReplaced(t *testing.T) {
	var b inventory.Building
	b.Origin[inventory.System], b.Origin[inventory.Storeys], b.Origin[inventory.Height] = inventory.Assumed,
		inventory.Derived, inventory.Given
	b.Origin[inventory.UseField] = inventory.Assumed
	b.Unused = 1<<inventory.Storeys | 1<<inventory.UseField | 1<<inventory.YearStrengthened
	var text textBuffer
	assert.Equal(t, "storeys (the cell was not used); system; use (the cell was not used)", text.assumed(&b))
}
