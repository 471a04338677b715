package retrofit

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/retrofit/demand"
)

// The structure that a measure reports as built has the reported demand: the frame and the
// device alone are enough to continue from.
func TestBuiltIsWhatWasEvaluated(t *testing.T) {
	built := 0
	for _, s := range []sketch{teachingHospital, concreteFrame, steelFrame} {
		c := s.build(t)
		for _, m := range every() {
			var w Work
			var o Outcome
			m.Evaluate(&w, c, &o)
			if len(o.Levels) == 0 {
				continue
			}
			require.NotNil(t, w.Built.Stick, "%s does not say what it built", m.Slug())
			var again demand.Work
			var asIs, got demand.Response
			sp := &c.Site.Spectra[c.Design]
			again.AsIs(w.Built.Stick, sp, &asIs)
			got.CopyFrom(&asIs)
			if d := w.Built.Device; d != nil {
				d.Demand(&again, w.Built.Stick, sp, &asIs, &got)
				built++
			}
			want := &o.Levels[c.Design]
			assert.InEpsilon(t, want.DriftRatio, got.DriftRatio, 1e-5, m.Slug())
			assert.InEpsilon(t, want.PeakAccel, got.PeakAccel, 1e-5, m.Slug())
			require.InDelta(t, want.Displacement, got.Displacement, 1e-5, m.Slug())
		}
	}
	assert.Greater(t, built, 6)
}
