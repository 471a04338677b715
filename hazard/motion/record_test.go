package motion

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"plinth/hazard"
)

// TestAriasOfSine checks the intensity of a whole number of cycles of amplitude a
// over T, pi a2 T/(4 g) in closed form, and D5-95, which is nine tenths of T.
func TestAriasOfSine(t *testing.T) {
	const a, step, n = 0.3, 0.001, 20000
	r := &Record{Step: step, Scale: a, Accel: make([]float64, n+1)}
	for i := range r.Accel {
		r.Accel[i] = math.Sin(2 * math.Pi * float64(i) * step)
	}
	am := a * hazard.Gravity
	assert.InEpsilon(t, math.Pi/(4*hazard.Gravity)*am*am*n*step, r.Arias(), 1e-5,
		"chords of a sine at 1000 a cycle")
	assert.InDelta(t, 0.9*n*step, r.Significant(0.05, 0.95), 1e-3)
	assert.InDelta(t, 0.7*n*step, r.Significant(0.05, 0.75), 1e-3)
	assert.InDelta(t, a, r.PGA(), 1e-12)
	assert.InDelta(t, 2*a, (func() float64 { d := r.Times(-2); return d.PGA() })(), 1e-12)
}

// TestEnvelopeSignificant checks the closed form against the sum over fine steps, and
// that EnvelopeFor gives what was asked.
func TestEnvelopeSignificant(t *testing.T) {
	for _, e := range []Envelope{Short, Long, {0.5, 0.5, 9}, {2, 30, 31}} {
		r := &Record{Step: 0.002, Scale: 1}
		for x := 0.0; x < e.length()*1.5; x += r.Step {
			r.Accel = append(r.Accel, e.at(x))
		}
		assert.InEpsilon(t, r.Significant(0.05, 0.95), e.Significant(), 1e-3)
		assert.InDelta(t, 0.05, e.at(e.Decay), 1e-12)
	}
	for _, d := range []float64{0.5, 1.7, 3, 8, 12, 40} {
		assert.InEpsilon(t, d, EnvelopeFor(d).Significant(), 1e-9)
		assert.True(t, EnvelopeFor(d).valid())
	}
}
