package pipeline

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A choice that no finding changes is worth nothing to know, in whatever order its gains
// are added up; one that a finding changes is worth the difference.
func TestWorthOfWhatChangesNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 1000 {
		var up, down float64
		p, g := make([]float64, 5), make([]float64, 5)
		for i := range p {
			p[i], g[i] = r.Float64(), 1e6*r.Float64()
			up += p[i] * g[i]
		}
		for i := range p {
			down += p[4-i] * g[4-i]
		}
		assert.Zero(t, worth(up, down))
	}
	assert.Equal(t, 10.0, worth(1e6+10, 1e6))
	assert.Equal(t, 5.0, worth(5, 0))
	assert.Zero(t, worth(0, 0))
}
