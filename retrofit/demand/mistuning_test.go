package demand

import (
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/integrate/quad"
)

// The closed integral against a numerical one of the same transfer function, with
// Gauss-Legendre points over w = tan x (gonum integrate/quad).
func TestEquivalentDampingIntegral(t *testing.T) {
	for _, m := range []TunedFrame{{0.05, 1, 0.05}, {0.02, 1.3, 0.02}, {0.2, 1.4, 0.10}} {
		for _, f := range []float64{0.8, 0.95, 1.1} {
			tuning := Tuning{f, 0.15}
			integral := 2 * quad.Fixed(func(x float64) float64 {
				w := math.Tan(x)
				s := complex(0, w)
				q := complex(2*tuning.Damping*f, 0)*s + complex(f*f, 0)
				over := (s*s+complex(2*m.Damping, 0)*s+1)*(s*s+q) + complex(m.Ratio, 0)*q*s*s
				h := cmplx.Abs((complex(m.Participation, 0)*s*s +
					complex(m.Participation+m.Ratio, 0)*q) / over)
				return h * h * (1 + w*w)
			}, 0, math.Pi/2, 2000, nil, 0)
			assert.InEpsilon(t, math.Pi*m.Participation*m.Participation/(2*integral),
				m.EquivalentDamping(tuning), 1e-6)
		}
	}
}

// The tuning of Warburton 1982 for white-noise base acceleration on an undamped
// structure is where the variance is least: moved either way it is no better.
func TestWarburtonIsTheOptimum(t *testing.T) {
	for _, mu := range []float64{0.01, 0.02, 0.05, 0.10} {
		m := TunedFrame{Ratio: mu, Participation: 1}
		best := WarburtonBaseNoise(mu)
		most := m.EquivalentDamping(best)
		for _, d := range []float64{-0.02, 0.02} {
			assert.Less(t, m.EquivalentDamping(Tuning{best.Frequency * (1 + d), best.Damping}), most)
			assert.Less(t, m.EquivalentDamping(Tuning{best.Frequency, best.Damping * (1 + 2*d)}), most)
		}
		// And its damping is about sqrt(mu)/4 for small masses (Luft 1979, from memory).
		assert.InEpsilon(t, math.Sqrt(mu)/4, most, 1.5*mu)
	}
}

// No mass leaves the frame's own damping; misjudging the period costs, and the more
// the smaller the mass.
func TestMistuning(t *testing.T) {
	none := TunedFrame{Ratio: 1e-12, Participation: 1.3, Damping: 0.05}
	assert.InEpsilon(t, 0.05, none.EquivalentDamping(SadekMode(1e-12, 1.3, 0.05)), 1e-5)
	last := 0.0
	for _, mm := range []float64{0.005, 0.01, 0.02, 0.05, 0.10} {
		m := TunedFrame{Ratio: mm, Participation: 1.3, Damping: 0.05}
		tuning := SadekMode(mm, 1.3, 0.05)
		left := m.LeftMistuned(tuning, 0.15)
		assert.Greater(t, left, last, "mass ratio %g", mm)
		assert.Less(t, left, 1.0)
		assert.InDelta(t, 1, m.LeftMistuned(tuning, 0), 1e-12)
		last = left
	}
}
