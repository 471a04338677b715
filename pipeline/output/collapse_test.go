package output

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"plinth/retrofit/demand"
)

// A drift that counts as collapse is not shown as a number; after a measure that mends it, it is.
func TestDriftWords(t *testing.T) {
	assert.Equal(t, []string{Collapsed}, demand.CollapseCounted.Words())
	r := Building{Drift: 4, BestDrift: 0.6, SolverStatus: "outside the range; " + Collapsed}
	assert.Equal(t, Collapsed, r.DriftWords(r.Drift, tenths))
	assert.Equal(t, "0.6", r.DriftWords(r.BestDrift, tenths))
	r.SolverStatus = "at other return periods: " + Collapsed
	assert.Equal(t, "4.0", r.DriftWords(r.Drift, tenths), "not at the design level")
}
