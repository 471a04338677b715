package history

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/retrofit/demand"
)

// TestStepsBalance checks strong dampers that are nearly friction, on weak and on strong frames
// under 1 g: their slope at rest is a hundred times that at speed. Every step balances even if
// it is too long, and at the final step the building stands.
func TestStepsBalance(t *testing.T) {
	r := shaking(0.005, 1)
	for _, n := range []int{1, 3, 8, 20} {
		for _, strength := range []float64{0.08, 1} {
			for _, alpha := range []float64{0.3, 0.15} {
				d := demand.Viscous{Alpha: alpha, Damping: 0.4, ReferenceRoof: 0.02 * float64(n)}
				m, err := New(frameOf(t, n, 0.1*float64(n), strength, 0), d, Options{})
				require.NoError(t, err)
				var w Work
				var out Result
				for _, parts := range []int{1, 2} {
					w.once(m, r, parts, &out, nil)
					assert.Zero(t, out.Status&Unconverged,
						"%d storeys, strength %g, exponent %g, %d steps a sample", n, strength, alpha, parts)
				}
				assert.Zero(t, run(t, m, r).Status, "%d storeys, strength %g, exponent %g", n, strength,
					alpha)
			}
		}
	}
}
