package retrofit

import (
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
)

// A plan may name every family of damping reductions, and no other.
func TestDampingReductions(t *testing.T) {
	field, ok := reflect.TypeFor[IsolationOptions]().FieldByName("Damping")
	require.True(t, ok)
	assert.ElementsMatch(t, hazard.ReductionNames(), strings.Split(field.Tag.Get("choices"), "|"))

	o := DefaultLeadRubberOptions()
	o.Damping = "none"
	assert.ErrorContains(t, o.Validate(), "damping reduction")
}

// Isolators move less by a standard that lets damping count for more: AASHTO's B is 1.63 at
// a damping of 25 %, that of ASCE 7-16 Table 17.5-1 is 1.60, and the near-fault form of New
// Zealand practice 1.40 (by hand).
func TestIsolatorsMoveByTheNamedReduction(t *testing.T) {
	c := teachingHospital.build(t)
	move := func(family string) float64 {
		o := DefaultLeadRubberOptions()
		o.Damping, o.YieldRatio, o.Period = family, [2]float64{0.08, 0.08}, [2]float64{3, 3}
		return run(NewLeadRubber(o), c).Levels[c.Design].Displacement
	}
	assert.Greater(t, move("nz-near-fault"), 1.03*move("asce-7-isolation"))
	for _, family := range hazard.ReductionNames() {
		assert.Positive(t, move(family), family)
	}
}
